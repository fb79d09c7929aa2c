"""Start the service: data folder, database, demo instruments, and the server on a local address."""

import sys
from datetime import datetime
from pathlib import Path

import click
from sqlalchemy import Engine

from ..basis.document import parse_document
from ..exchange.evaluation_file import typed_from
from ..rubric.shop import Shop
from ..store.engine import open_database
from ..store.evaluations import create, newest
from ..store.folders import rubrics_folder
from ..store.keeping.daily import Keeper
from ..store.people import everybody, make_code
from ..store.records import Records, secret_key
from .app import create_app
from .aside.process import settle
from .aside.works import beside
from .desk.examine import CLOCK_SLACK, last_change
from .listening import ended_by_signals, listen
from .people.house import LOOPBACK, Listening, house_of
from .service import Service

FEWEST_ANSWERS = 8
LEADING = ("good_body_raw_set_up", "student_violin_cut_corners", "old_trade_violin_honest_wear")


def load_demo(service: Service) -> int:
    """Put the example instruments into an empty database; gives how many. Examples of a single reading stay out."""
    if newest(service.engine, 1):
        return 0
    documents = [parse_document(path.read_bytes(), path.name)[0] for path in demo_files()]
    shown = [one.data for one in documents if one is not None and len(one.data["observations"]) >= FEWEST_ANSWERS]
    for data in shown:
        create(service.engine, str(data["rubric"]), typed_from(data), service.now())
    return len(shown)


def demo_files() -> list[Path]:
    """The example files, those that the front page should lead with last, as the newest comes first there."""
    paths = sorted((rubrics_folder() / "examples").glob("*.yaml"), reverse=True)
    return sorted(paths, key=lambda path: -LEADING.index(path.stem) if path.stem in LEADING else -len(LEADING))


def greet(service: Service) -> None:
    """How to come in, on standard error: the owner's own link, and a QR code for the first phone."""
    import segno

    def link(role: str) -> str:
        return service.house.link(f"/in?code={make_code(service.engine, role, service.now())}")

    if not everybody(service.engine):
        click.echo(f"You, the owner, come in here (once, within 20 minutes): {link('owner')}", err=True)
    phone = link("phone")
    click.echo(f"A phone in this room comes in here, once, or points its camera at the square: {phone}", err=True)
    segno.make(phone, error="l").terminal(out=sys.stderr, compact=True)


def keeper_of(service: Service, records: Records, backups: Path | None) -> Keeper | None:
    """Who makes the daily backup, begun already; the examples need none."""
    if records.demo:
        return None
    keeper = Keeper(service.engine, records, backups or records.backups, service.now)
    keeper.start()
    return keeper


def warn_of_clock(engine: Engine, now: str) -> None:
    """Say it at the start where the clock stands before what is kept."""
    last = last_change(engine)
    if last is not None and last - datetime.fromisoformat(now) > CLOCK_SLACK:
        shown = f"{datetime.fromisoformat(now):%d %B %Y, %H:%M}"
        told = f"The clock shows {shown} UTC, but the records were changed on {last:%d %B %Y}: set it right."
        click.echo(told, err=True)


def serve(
    at: Listening,
    records: Records,
    shop: Shop,
    shop_text: str = "",
    backups: Path | None = None,
    overlays: tuple[Path, ...] = (),
) -> None:
    """Serve until it is told to end; the address goes to standard error. What was taken in is answered first.

    `shop_text`: of the shop's file, if any. `backups`: where the daily ones go, None for beside the records.
    `overlays`: opinions over the rubrics, sound ones.
    """
    host = "0.0.0.0" if at.phones and at.host in LOOPBACK else at.host
    engine, keeper, aside = open_database(records.database), None, None
    try:
        service = Service(engine, shop, folder=records.folder, shop_text=shop_text, overlays=overlays)
        if records.demo:
            load_demo(service)
        for family in service.families():  # read before the address is told, so that the first page comes at once
            service.rubric(family)
        service.house = house_of(host, at.port, at.phones, at.address)
        server = listen(create_app(service, secret_key(records)), host, at.port, at.proxy)
        if at.port == 0:
            service.house = house_of(host, server.port, at.phones, at.address)
        warn_of_clock(engine, service.now())
        service.aside = aside = beside()
        keeper = service.keeper = keeper_of(service, records, backups)
        with ended_by_signals(server.end):
            click.echo(f"Open {service.house.address}/ in a browser. Stop with Ctrl+C.", err=True)
            if not service.house.open_:
                greet(service)
                aside.begin()
            settle()
            server.run()
    finally:
        if keeper is not None:
            keeper.stop()
        if aside is not None:
            aside.end()
        engine.dispose()  # the last connection folds the write-ahead file in: one complete file stays
