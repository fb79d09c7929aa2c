"""Guests with a private link: a teacher who plays it, or looks at what a student could not. No account; her name once.

`invitations` are made and withdrawn by those at home; `guests` are the pages that the link alone opens.
"""

from flask import Blueprint, abort, redirect, render_template, request, session, url_for

from ...assessment.looking.next_checks import HEARD
from ...assessment.observing.typed import GUEST
from ...rubric.rubric import Rubric
from ...store.evaluations import DRAFT, Kept
from ...store.guests import GuestLink, find_link, links_of, make_link, withdraw_link
from ...store.people import note_deed
from ...wording.looks import held_sentence
from ..looking.looks import Ways, looks_page, take_answer, told_of
from ..looking.pages import View, kept_or_404
from ..looking.plan import PLAYED_MINUTES, Plan, is_played, is_told, minutes_of_looks
from ..looking.sending import take_answers
from ..service import service
from .doors import MISSES, is_miss, limiter, name_now
from .team import qr

invitations = Blueprint("invitations", __name__)
guests = Blueprint("guests", __name__)
KINDS = {
    "play": ("Play it, and listen", "How it plays and sounds, in the hands of somebody who can."),
    "eye": ("Look at what I could not tell", "What was answered with cannot tell, and what asks for a teacher's eye."),
}
MOST_LOOKS = 24
MOST_NAME = 60


@invitations.get("/evaluations/<identity>/guests")
def links(identity: str) -> str:
    return _links_page(kept_or_404(identity))


@invitations.post("/evaluations/<identity>/guests")
def invite(identity: str) -> View:
    """Make a private link to named looks; it is shown this once."""
    kept = kept_or_404(identity)
    kind, label = request.form.get("kind", ""), request.form.get("label", "").strip()[:MOST_NAME]
    looks = looks_for(service().rubric(kept.rubric), kept, kind)
    if kept.state != DRAFT or not looks:
        return _links_page(kept, wrong="There is nothing left here to look at. Choose the other, or look again."), 422
    token = make_link(service().engine, identity, looks, label or KINDS[kind][0], service().now())
    note_deed(service().engine, service().now(), name_now(), "made a link for a guest", identity)
    address = service().house.link(url_for("guests.welcome", token=token))
    return _links_page(kept, address=address)


@invitations.post("/evaluations/<identity>/guests/<key>/withdraw")
def withdraw(identity: str, key: str) -> View:
    kept_or_404(identity)
    withdraw_link(service().engine, identity, key, service().now())
    note_deed(service().engine, service().now(), name_now(), "withdrew a link", identity)
    return redirect(url_for("invitations.links", identity=identity))


def looks_for(rubric: Rubric, kept: Kept, kind: str) -> tuple[str, ...]:
    """The looks that such a guest is asked for; empty for a kind that there is not.

    What takes longer than one playing, such as three instruments on two days, is the player's own and in no play test.
    """
    answers = kept.typed["answers"]
    asked = [check for check in rubric.checks.values() if check.kind != "derived" and check.who != "luthier"]
    if kind == "play":
        found = [check for check in asked if check.part in HEARD and check.minutes <= PLAYED_MINUTES]
    elif kind == "eye":
        doubtful = {name for name, answer in answers.items() if answer and not is_told(answer)}
        found = [check for check in asked if check.check in doubtful]
        found += [check for check in asked if check.who == "teacher" and check.check not in answers]
    else:
        found = []
    return tuple(dict.fromkeys(check.check for check in found))[:MOST_LOOKS]


def held_in(kept: Kept, kind: str) -> str:
    """What must be put right before these looks can be judged; empty where nothing must, or they are not asked."""
    rubric, case = service().rubric(kept.rubric), service().read(kept).case
    waiting = (held_sentence(rubric, case, rubric.checks[name]) for name in looks_for(rubric, kept, kind))
    return next((one for one in waiting if one), "")


def _links_page(kept: Kept, wrong: str = "", address: str = "") -> str:
    return render_template(
        "people/links.html",
        kept=kept,
        kinds=KINDS,
        held={kind: held_in(kept, kind) for kind in KINDS},
        links=links_of(service().engine, kept.id),
        now=service().now(),
        house=service().house,
        wrong=wrong,
        address=address,
        drawn=qr(address) if address else "",
    )


@guests.get("/g/<token>")
@limiter.limit(MISSES, deduct_when=is_miss)
def welcome(token: str) -> View:
    """The looks, once she has said her name; or one sentence where the link holds no more."""
    link, kept = _behind(token)
    if not link.holds(service().now()) or kept.state != DRAFT:
        return render_template("people/over.html"), 410
    name = _name(link)
    if not name:
        return _welcome(token, link, kept)
    rubric = service().rubric(kept.rubric)
    at, just = request.args.get("at", ""), request.args.get("kept", "")
    return looks_page(rubric, kept, _plan(link), _ways(token, link, name), at, just)


def _welcome(token: str, link: GuestLink, kept: Kept, wrong: str = "") -> str:
    checks = service().rubric(kept.rubric).checks
    asked = [checks[name] for name in link.looks if name in checks]
    minutes, count = sum(minutes_of_looks(asked, "in_person").values()), len(link.looks)
    told = {"count": count, "minutes": minutes, "played": is_played(asked)}
    return render_template("people/welcome.html", token=token, kept=kept, wrong=wrong, **told)


@guests.post("/g/<token>/name")
@limiter.limit(MISSES, deduct_when=is_miss)
def say_name(token: str) -> View:
    link, kept = _behind(token)
    name = " ".join(request.form.get("name", "").split())[:MOST_NAME]
    if not name:
        told = "Enter your name, so that it stands beside your answers."
        return _welcome(token, link, kept, told), 422
    session[f"guest {link.token_hash[:16]}"] = name
    return redirect(url_for("guests.welcome", token=token))


@guests.post("/g/<token>")
@limiter.limit(MISSES, deduct_when=is_miss)
def look(token: str) -> View:
    link, kept = _behind(token)
    name = _name(link)
    if not link.holds(service().now()):
        return render_template("people/over.html"), 410
    if not name:
        return redirect(url_for("guests.welcome", token=token))
    return take_answer(kept, _plan(link), _ways(token, link, name), _writer(link))


@guests.post("/g/<token>/answers")
@limiter.limit(MISSES, deduct_when=is_miss)
def answers(token: str) -> tuple[dict[str, object], int]:
    link, kept = _behind(token)
    if not link.holds(service().now()):
        return {"say": "Your link has ended. What you answered before is kept."}, 410
    return take_answers(kept, _plan(link), _name(link) or "a guest", _writer(link))


@guests.get("/g/<token>/told.json")
@limiter.limit(MISSES, deduct_when=is_miss)
def told(token: str) -> dict[str, object]:
    link, kept = _behind(token)
    if not link.holds(service().now()):
        abort(410)
    return told_of(service().rubric(kept.rubric), _plan(link))


@guests.errorhandler(404)
def nowhere(_error: Exception) -> View | tuple[dict[str, object], int]:
    """A link that was altered or cut off on its way."""
    if request.is_json:
        return {"say": "This link leads nowhere. Open it once more as it was sent to you."}, 404
    return render_template("people/nowhere.html"), 404


def _behind(token: str) -> tuple[GuestLink, Kept]:
    link = find_link(service().engine, token)
    if link is None:
        abort(404)
    return link, kept_or_404(link.evaluation)


def _plan(link: GuestLink) -> Plan:
    return Plan(tuple(link.looks), "in_person")


def _ways(token: str, link: GuestLink, name: str) -> Ways:
    look, given, how = (url_for(f"guests.{way}", token=token) for way in ("welcome", "answers", "told"))
    return Ways(look, given, how, name, _writer(link))


def _name(link: GuestLink) -> str:
    return str(session.get(f"guest {link.token_hash[:16]}", ""))


def _writer(link: GuestLink) -> str:
    return f"{GUEST}{link.token_hash[:16]}"
