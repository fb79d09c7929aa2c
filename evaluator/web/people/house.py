"""How the service stands open: to one person on this computer, or to people who sign in; where it listens, and under
which names it is known.
"""

import socket
from dataclasses import dataclass, field
from urllib.parse import urlsplit

CUSTOMERS = "/q"  # how every address of the customers' application begins
LOCAL = frozenset({"localhost", "127.0.0.1", "[::1]"})
LOOPBACK = frozenset({"127.0.0.1", "localhost", "::1"})
ANY = frozenset({"0.0.0.0", "::", ""})


@dataclass(frozen=True, slots=True)
class House:
    """`open_`: whoever reaches it is its owner (only on this computer). `hosts`: names it answers to, without port.

    `address`: by which it is reached, for links that leave the house, as https://name or http://host:port. `reachable`:
    whether others than this computer can open that address.
    """

    open_: bool = True
    hosts: frozenset[str] = field(default=LOCAL)
    address: str = "http://localhost"
    reachable: bool = False

    def link(self, path: str) -> str:
        """The whole address of a page; never made from what a request says of itself."""
        return self.address.rstrip("/") + path

    def quote_link(self, token: str) -> str:
        """The whole address under which a customer answers a quote: it lies in the customers' own application."""
        return self.link(f"{CUSTOMERS}/{token}")

    def knows(self, host: str) -> bool:
        """Whether a request's Host header names this house."""
        name = host.rsplit(":", 1)[0] if not host.endswith("]") else host
        return name.lower() in self.hosts


@dataclass(frozen=True, slots=True)
class Listening:
    """Where the service listens, and by which address it is known outside; `phones`: let those in the room in.

    `proxy`: the address of the proxy before it, which is believed when it says for whom it asks; empty for none.
    """

    host: str = "127.0.0.1"
    port: int = 8765
    phones: bool = False
    address: str = ""
    proxy: str = ""


def house_of(host: str, port: int, phones: bool, address: str) -> House:
    """How the service stands open: to this computer alone, or behind a door where others reach it, by a proxy too."""
    if host in LOOPBACK and not phones and not address:
        return House(open_=True, address=f"http://{host}:{port}")
    here = own_address() if host in ANY else host
    found = address or f"http://{here}:{port}"
    named = {urlsplit(found).hostname or here, here, host}
    return House(open_=False, hosts=LOCAL | named, address=found, reachable=True)


def own_address() -> str:
    """This computer's address in its network: the one it would send from. Nothing is sent to find out."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("10.255.255.255", 1))
        except OSError:
            return "127.0.0.1"
        return str(probe.getsockname()[0])
