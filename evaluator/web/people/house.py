"""How the service stands open: to one person on this computer, or to people who sign in; and under which names."""

from dataclasses import dataclass, field

CUSTOMERS = "/q"  # how every address of the customers' application begins
LOCAL = frozenset({"localhost", "127.0.0.1", "[::1]"})


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
