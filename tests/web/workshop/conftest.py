"""A finished evaluation and its quote, as the tests of quotes have them."""

from tests.web.quoting.conftest import finished, path, quote, reached, service, taxed

__all__ = ["finished", "path", "quote", "reached", "service", "taxed"]
