"""A real server on this machine, for a browser or a program to ask."""

import threading
from collections.abc import Iterator
from contextlib import contextmanager

from flask import Flask
from waitress.server import create_server


@contextmanager
def serving(app: Flask, threads: int = 4) -> Iterator[str]:
    """Its address, as http://127.0.0.1:PORT. No socket and no thread of it is left afterwards."""
    server = create_server(app, host="127.0.0.1", port=0, threads=threads)
    stopping = threading.Event()

    def run() -> None:
        try:
            server.run()
        except (OSError, ValueError):  # its socket was closed while it waited on it
            if not stopping.is_set():
                raise

    thread = threading.Thread(target=run, daemon=True)
    thread.start()
    yield f"http://127.0.0.1:{server.effective_port}"
    stopping.set()
    server.close()
    server.task_dispatcher.shutdown()
    thread.join(timeout=5)
