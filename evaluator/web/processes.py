"""The service for a server that runs it in several processes, as `gunicorn 'evaluator.web.processes:application()'`.

Each process opens the database for itself and follows what the others save. What a process keeps in its own memory is
of one process: how often an address may try, and a fleet that is being judged; so the proxy sends one visitor to one
process where that matters. The daily backup is left to `evaluator backup` by the system's timer, once for all.
"""

import os
from pathlib import Path

from flask import Flask
from werkzeug.middleware.proxy_fix import ProxyFix

from ..rubric.files.shop_file import load_shop
from ..store.engine import open_database
from ..store.folders import rubrics_folder
from ..store.records import Records, secret_key, user_data_folder
from .app import create_app
from .aside import works
from .aside.process import Aside, settle
from .people.house import house_of
from .service import Service

PREFIX = "EVALUATOR_"


def application() -> Flask:
    """The app by the environment: EVALUATOR_ADDRESS, by which people reach it through one proxy; EVALUATOR_DATA,
    EVALUATOR_DATABASE and EVALUATOR_SHOP as the options of `evaluator serve`.
    """
    address, folder, database, shop_file = (_said(name) for name in ("ADDRESS", "DATA", "DATABASE", "SHOP"))
    if not address:
        raise RuntimeError(f"{PREFIX}ADDRESS is not set: name the address by which people reach the service.")
    records = Records(Path(folder) if folder else user_data_folder(), database)
    default = rubrics_folder() / "shop.yaml"
    shop, problems = load_shop(Path(shop_file) if shop_file else default, default)
    if shop is None:
        raise RuntimeError("; ".join(map(str, problems)))
    text = Path(shop_file).read_text("utf-8") if shop_file else ""
    service = Service(open_database(records.database), shop, folder=records.folder, shop_text=text)
    service.house = house_of("127.0.0.1", 0, False, address)
    service.aside = Aside(works.ready, most=1)  # started by the first answer or paper; a quarter of a machine each
    for family in service.families():
        service.rubric(family)
    app = create_app(service, secret_key(records))
    settle()
    app.wsgi_app = ProxyFix(app.wsgi_app, x_for=1)  # type: ignore[method-assign]
    return app


def _said(name: str) -> str:
    return os.environ.get(PREFIX + name, "")
