"""The server on its address: opened, or why it cannot be; and ended so that whatever it took in is answered first."""

import logging
import signal
import socket
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import TypeVar

from flask import Flask
from waitress import wasyncore
from waitress.channel import HTTPChannel
from waitress.server import BaseWSGIServer, create_server
from waitress.task import ThreadedTaskDispatcher

from ..basis.problem import Message, Messages, problem
from ..store.faults import UnusableError

THREADS = 32  # most of them wait: for a paper, a result, a slow line
CONNECTIONS = 1000  # browsers hold several open each; an idle one costs a few kB
IDLE_S = 30
LOOK_EVERY_S = 0.5
ENDING_S = 20  # as long as the slowest page
MESSAGES: Messages = {
    "listen.taken": Message("another program listens there.", "Stop it, or give another --port."),
    "listen.forbidden": Message("this user may not listen there.", "Give a --port of 1024 or more."),
    "listen.unknown": Message("this computer has no such address.", "Give an address of this computer as --host."),
}


Kind = TypeVar("Kind")


@dataclass
class Server:
    """An open server; `port` is the one that it got."""

    port: int
    channels: dict[int, object]
    tasks: ThreadedTaskDispatcher
    _ending: bool = field(default=False)

    def end(self) -> None:
        """Take nothing more in; `run` comes back when what was taken in is answered."""
        self._ending = True

    def run(self) -> None:
        """Serve until `end`, then answer what is under way, for so long as a slow page takes."""
        while not self._ending:
            wasyncore.loop(timeout=LOOK_EVERY_S, map=self.channels, count=1, use_poll=True)
        for one in self._all(BaseWSGIServer):
            wasyncore.dispatcher.close(one)
        until = time.monotonic() + ENDING_S
        while any(_is_at_work(one) for one in self._all(HTTPChannel)) and time.monotonic() < until:
            wasyncore.loop(timeout=0.05, map=self.channels, count=1, use_poll=True)
        self.tasks.shutdown(timeout=1)
        wasyncore.close_all(self.channels)

    def _all(self, kind: type[Kind]) -> list[Kind]:
        return [one for one in self.channels.values() if isinstance(one, kind)]


def _is_at_work(channel: HTTPChannel) -> bool:
    return bool(channel.requests or channel.request is not None or channel.total_outbufs_len)


def listen(app: Flask, host: str, port: int, proxy: str = "") -> Server:
    """Open the server; raises UnusableError where the address cannot be had.

    `proxy`: whose word is believed on the address of a visitor; without it, what a request says of that is dropped.
    """
    logging.getLogger("waitress").setLevel(logging.ERROR)
    channels: dict[int, object] = {}
    believed: dict[str, object] = {"clear_untrusted_proxy_headers": True}
    if proxy:
        believed |= {"trusted_proxy": proxy, "trusted_proxy_headers": {"x-forwarded-for"}}
    limits = {"threads": THREADS, "connection_limit": CONNECTIONS, "channel_timeout": IDLE_S, "cleanup_interval": 5}
    try:
        server = create_server(app, map=channels, host=host, port=port, **limits, **believed)
    except PermissionError as error:
        raise _cannot("listen.forbidden", host, port) from error
    except (socket.gaierror, ValueError) as error:
        raise _cannot("listen.unknown", host, port) from error
    except OSError as error:
        code = "listen.taken" if "in use" in str(error).lower() else "listen.unknown"
        raise _cannot(code, host, port) from error
    got = getattr(server, "effective_port", None) or server.effective_listen[0][1]
    return Server(got, channels, server.task_dispatcher)


def _cannot(code: str, host: str, port: int) -> UnusableError:
    return UnusableError(problem(MESSAGES, code, f"{host}, port {port}"))


@contextmanager
def ended_by_signals(end: Callable[[], None]) -> Iterator[None]:
    """Within the block, Ctrl+C and the system's wish to end (SIGTERM) call `end` instead of breaking off."""
    before = {sign: signal.signal(sign, lambda *_: end()) for sign in (signal.SIGINT, signal.SIGTERM)}
    try:
        yield
    finally:
        for sign, handler in before.items():
            signal.signal(sign, handler)
