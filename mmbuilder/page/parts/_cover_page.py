"""Each still at full size: what is covered, what is proposed, what stays; decided by hand."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import floor
from pathlib import Path
from typing import Any, cast

from flask import Response, abort, current_app, jsonify, redirect, render_template, request
from werkzeug.wrappers import Response as AnyResponse

from mmbuilder import uses
from mmbuilder.case.model import Case
from mmbuilder.case.tidy import tidy
from mmbuilder.casefile.files import inside
from mmbuilder.errors import FileRefused
from mmbuilder.page import leftover, taking
from mmbuilder.page import stills as cases
from mmbuilder.page.app import desk, use_of, wants_json
from mmbuilder.page.form.choices import Choice, choices
from mmbuilder.page.form.opened import opened
from mmbuilder.page.looking import Look
from mmbuilder.page.parts._typed import entries, typed, word
from mmbuilder.page.parts.cover import NAME, NUMBERS
from mmbuilder.page.pictures import AS_IT_IS, Pictures, Size
from mmbuilder.page.proposals import Proposal, as_box, as_pixels, grouped, open_proposals, staying
from mmbuilder.page.shown import needs_pause, on_slides, put_first
from mmbuilder.page.stills import BY_ITSELF, KINDS, MOST_WHY, NOT_SAID, Box, Kind, Still
from mmbuilder.safe.terms import Use
from mmbuilder.scrub.plan import Decision, PixelBox

REASONS = (
    "scale",
    "side or orientation",
    "setting or value of a device",
    "no writing: tissue or an instrument",
    "no writing: a reflection",
    "shown on purpose",
)
"""Reasons offered for what stays in view; any other may be written."""
ZOOMS = (25, 50, 75, 100, 125, 150, 200)


@dataclass(frozen=True)
class Row:
    """A box as it is listed beside the picture and drawn on it.

    Attributes:
        key: its name on the page.
        label: its short name, as it is drawn: C1 is covered, P1 proposed, K1 kept, S1 stays of itself.
        group: which of these it is: cover, proposal, keep or stays.
        what: its reason, or what was found.
        more: what else there is to know.
        box: round all of it; None if what the case holds is no box.
        parts: what is drawn.
    """

    key: str
    label: str
    group: str
    what: str
    more: str
    box: Box | None
    parts: tuple[Box, ...]

    @property
    def name(self) -> str:
        """What a screen reader says of it."""
        said = f"{self.label}, {_GROUPS[self.group]}: {self.what or 'no reason given'}"
        place = (
            "left {}, top {}, width {}, height {}".format(*self.box)
            if self.box
            else "no box that can be read"
        )
        return "; ".join(filter(None, (said, self.more, place)))


_GROUPS = {
    "proposal": "to decide",
    "cover": "covered",
    "keep": "stays, your reason",
    "stays": "stays of itself",
}


@dataclass(frozen=True)
class Line:
    """A picture in the list.

    Attributes:
        still: which.
        size: in pixels, in words.
        state: how far it is, in words.
        todo: whether somebody has something to do.
        done: whether it was looked at and nothing is left; neither while the finders look.
        shown: whether the slides of the case's use show it.
        stopped: whether it has to stop the room to come before those that do.
        event: the event it was taken at, as the case has it.
        pauses: whether the room is asked what it sees.
    """

    still: Still
    size: str
    state: str
    todo: bool
    done: bool
    shown: bool = True
    stopped: bool = False
    event: str = ""
    pauses: bool = False

    @property
    def asks(self) -> bool:
        """Whether it is still to say what it shows, or at which event it was taken."""
        return not (self.still.shows and self.still.caption and self.event)


def _pictures() -> Pictures:
    return cast(Pictures, current_app.extensions[NAME])


# Pages


def index() -> str:
    """List the pictures by number and what they show."""
    from mmbuilder.scrub.images import regions
    from mmbuilder.scrub.stills import UNCHECKED

    listed = _stills()
    desk().looks.ask([still for still in listed if desk().looks.seen(still) is None])
    tree, use = typed(desk()), use_of(None)
    slides = on_slides(tree, uses.load(use))
    lines = [
        replace(
            _line(still),
            shown=place in slides,
            stopped=needs_pause(tree, place),
            event=word(frame, "event"),
            pauses=tidy(word(frame, "pause")) in ("yes", "true"),
        )
        for place, (still, frame) in enumerate(zip(listed, _frames(tree, len(listed)), strict=True))
    ]
    return render_template(
        "cover.html.j2",
        lines=lines,
        use=use.value,
        slides=[place + 1 for place in slides],
        first=next((line.still.number for line in lines if line.todo), None),
        done=all(line.done for line in lines),
        unchecked=(*regions.unchecked(), *UNCHECKED),
        events=_events(),
        leftover=leftover.leftover(desk(), "images"),
        room={one.value: _most_of(one) for one in Use},
        at_once=taking.MOST_AT_ONCE,
    )


def _frames(tree: dict[str, Any], count: int) -> list[dict[str, Any]]:
    """Return the entries of the pictures, one for each that is listed."""
    return [*entries(tree, "frames"), *[{}] * count][:count]


def _most_of(use: Use) -> int:
    """How many pictures the slides of a use have room for in the course of the story."""
    told = uses.load(use).planned("course")
    return told.frames if told else 0


def take() -> AnyResponse:
    """Take a still into the case."""
    request.max_content_length = taking.MOST_BYTES + _ENVELOPE
    dropped = request.files.get("file")
    if dropped is None or not dropped.filename:
        raise FileRefused("choose a picture first")
    with dropped.stream as stream:
        content = stream.read(taking.MOST_BYTES + 1)
    number = taking.take(desk(), content, _said(), request.form.get("revision", ""))
    return redirect(f"/cover/{number}", 303)


def take_several() -> AnyResponse:
    """Take several stills into the case; what each shows is asked beside it."""
    request.max_content_length = taking.MOST_BYTES + _ENVELOPE
    contents = []
    for dropped in request.files.getlist("files"):
        if dropped.filename:
            with dropped.stream as stream:
                contents.append(stream.read(taking.MOST_BYTES + 1))
    number = taking.take_several(desk(), contents, request.form.get("revision", ""))
    return redirect(f"/cover/#say-{number}", 303)


def say() -> AnyResponse:
    """Take what is said of the pictures in the list: what each shows, and at which event it was taken."""
    said = {still.number: _said(f"-{still.number}") for still in _stills()}
    taking.say(desk(), said, request.form.get("revision", ""))
    return redirect("/cover/#pictures", 303)


def _said(behind: str = "") -> dict[str, str]:
    """What a form says of a picture, in fields with its number behind their names."""
    keys = ("shows", "caption", "event", "pause")
    said = {key: " ".join(request.form.get(f"{key}{behind}", "").split()) for key in keys}
    if said["event"] not in ("", *(value for value, _ in _events())) or said["pause"] not in ("", "yes"):
        raise FileRefused("choose the event from the list; load the page again")
    return said


def first() -> AnyResponse:
    """Put a picture before the others, so that the slides show it."""
    number = request.form.get("number", "")
    if not number.isdecimal() or len(number) > 4:
        raise FileRefused("the page did not send what was expected; load it again")
    place = _still(int(number))[1].number - 1

    def moved(text: str) -> str:
        return put_first(text, place, pause=needs_pause(typed(desk()), place))

    desk().rewrite(moved, request.form.get("revision", ""))
    return redirect("/cover/#pictures", 303)


def delete() -> AnyResponse:
    """Delete a picture that the case does not name."""
    leftover.delete(desk(), "images", request.form.get("name", ""), request.form.get("revision", ""))
    return redirect("/cover/", 303)


def _events() -> list[Choice]:
    """Return the events that a picture may have been taken at, as the form offers them."""
    now = opened(desk().text(), Case)
    return choices("events", now.values, (), desk().root) if now is not None else []


_ENVELOPE = 2**16
"""Bytes that a form has beside its file."""


def one(number: int) -> str:
    """Show one picture with its boxes."""
    listed, still = _still(number)
    desk().looks.ask([*listed[number - 1 :], *listed[: number - 1]])
    try:
        width, height = _pictures().size(_path(still))
    except FileRefused as fault:
        return render_template("cover_fault.html.j2", still=still, count=len(listed), fault=str(fault))
    view = _view(still, listed, (width, height))
    return render_template(
        "cover_one.html.j2",
        **view,
        width=width,
        height=height,
        count=len(listed),
        zooms=ZOOMS,
        whole=max(width, height) <= AS_IT_IS,
        reasons=REASONS,
    )


def boxes(number: int) -> Response:
    """Tell what the page shows of the boxes, for a page that waits for the finders."""
    listed, still = _still(number)
    if desk().looks.seen(still) is None:
        desk().looks.ask([still])
    return jsonify({"revision": desk().revision(), **_drawn(still, listed)})


def picture(number: int) -> Response:
    """Send the pixels of a picture as they are; its neighbours are made ready meanwhile."""
    listed, still = _still(number)
    size: Size = "full" if request.args.get("size") == "full" else "screen"
    sent = _pictures().before(_path(still), size)
    _pictures().ready(
        [*_paths(listed[number : number + 2]), *_paths(listed[max(0, number - 2) : number - 1])]
    )
    return Response(sent, mimetype="image/jpeg")


def after(number: int) -> Response:
    """Send a picture as a deck would hold it now."""
    _, still = _still(number)
    boxes = _planned(still, _look(still), outside=_outside())
    return Response(_pictures().after(_path(still), boxes, still.crop), mimetype="image/jpeg")


def change(number: int) -> AnyResponse:
    """Decide, draw, move, delete."""
    listed, still = _still(number)
    asked = _asked()
    action = _ACTIONS.get(asked.get("action", ""))
    if action is None:
        abort(400)
    said, chosen = "", ""

    def changed(tree: Any) -> None:
        nonlocal said, chosen
        said, chosen = action(tree, still, asked)

    revision = desk().change(changed, asked.get("revision", ""))
    listed, still = _still(number)
    desk().looks.ask([still])
    if wants_json():
        return jsonify({"revision": revision, "said": said, "box": chosen, **_drawn(still, listed, chosen)})
    return redirect(f"/{NAME}/{number}" + (f"?box={chosen}" if chosen else ""), 303)


# What is shown


def _stills() -> tuple[Still, ...]:
    return cases.stills(desk().text())


def _still(number: int) -> tuple[tuple[Still, ...], Still]:
    listed = _stills()
    if not 1 <= number <= len(listed):
        abort(404)
    return listed, listed[number - 1]


def _path(still: Still) -> Path:
    return inside(desk().root, still.file)


def _paths(listed: Sequence[Still]) -> Iterator[Path]:
    for still in listed:
        try:
            yield _path(still)
        except FileRefused:
            continue  # told when it is opened


def _line(still: Still) -> Line:
    try:
        size = "{:,} × {:,}".format(*_pictures().size(_path(still)))
    except FileRefused as fault:
        return Line(still, "", str(fault), todo=True, done=False)
    look = _look(still)
    left = _open(still, look)
    todo = bool(left or look.fault or (not still.said and not look.running))
    done = not todo and not look.running
    return Line(still, size, "; ".join(_state(still, look, left)), todo, done)


def _look(still: Still) -> Look:
    """Return what is known of a picture; one that nobody asked for has still to be looked at."""
    return desk().looks.seen(still) or Look(running=True)


def _state(still: Still, look: Look, left: Sequence[Proposal]) -> Iterator[str]:
    covers, keeps = len(still.boxes("cover")), len(still.boxes("keep"))
    if covers:
        yield f"{_count(covers, 'cover')}"
    elif still.nothing:
        yield "nothing to cover"
    if keeps:
        yield f"{keeps} to stay"
    if look.running:
        yield "being looked at"
    elif look.fault:
        yield "could not be looked at"
    if left:
        yield f"{len(left)} to decide"
    elif not still.said:
        yield BY_ITSELF if look.running else NOT_SAID


def _count(number: int, word: str) -> str:
    return f"{number} {word}{'s' if number != 1 else ''}"


def _open(still: Still, look: Look) -> tuple[Proposal, ...]:
    covers, keeps = still.boxes("cover"), still.boxes("keep")
    return grouped(open_proposals(look.found, covers, keeps), covers, keeps)


def _planned(still: Still, look: Look, *, outside: bool) -> tuple[PixelBox, ...]:
    """Return the boxes a build would have now; while a picture is looked at, the ones known so far."""
    if not look.running and not look.fault:
        return look.planned(outside=outside)
    covers, keeps = still.boxes("cover"), still.boxes("keep")
    kept = [replace(as_pixels(box), decision=Decision.KEEP) for box in keeps]
    known = replace(look, found=open_proposals(look.found, covers, keeps))
    return (*map(as_pixels, covers), *kept, *known.planned(outside=outside))


def _number(still: Still, found: Proposal) -> int:
    """The number of a proposal, the same while the program runs: that of a decided one is not given anew."""
    told: dict[str, dict[str, int]] = current_app.extensions[NUMBERS]
    numbers = told.setdefault(still.file, {})
    return numbers.setdefault(found.key, len(numbers) + 1)


def _rows(still: Still, look: Look) -> Iterator[Row]:
    for found in _open(still, look):
        beside = "next to a cover of yours" if found.beside else ""
        more = ", ".join(filter(None, (found.sure, beside)))
        yield Row(
            found.key, f"P{_number(still, found)}", "proposal", found.kind, more, found.box, found.boxes
        )
    for drawn in still.drawn:
        label = f"{'C' if drawn.kind == 'cover' else 'K'}{drawn.place + 1}"
        yield Row(drawn.key, label, drawn.kind, drawn.why, "", drawn.box, (drawn.box,) if drawn.box else ())
    stays = staying(look.found, still.boxes("cover"), still.boxes("keep"))
    for count, left in enumerate(stays, 1):
        box = as_box(left)
        yield Row("stays-" + "-".join(map(str, box)), f"S{count}", "stays", left.reason, "", box, (box,))


def _outside() -> bool:
    """Whether the case is for readers elsewhere, as it says itself."""
    return uses.load(use_of(None)).outside


def _view(still: Still, listed: Sequence[Still], size: tuple[int, int], chosen: str = "") -> dict[str, Any]:
    """Return what the templates of a picture's boxes need."""
    look = _look(still)
    rows = list(_rows(still, look))
    wanted = chosen or request.args.get("box", "")
    first = next((row for row in rows if row.group == "proposal"), None)
    return {
        "still": still,
        "look": look,
        "groups": {group: [row for row in rows if row.group == group] for group in _GROUPS},
        # Large boxes below small ones, so that each can be pointed at.
        "layers": sorted(
            (row for row in rows if row.box), key=lambda row: -row.box[2] * row.box[3] if row.box else 0
        ),
        "chosen": next((row for row in rows if row.key == wanted), first),
        "others": list(_others(still, listed, size)),
        "most": MOST_WHY,
        "not_said": NOT_SAID,
        "by_itself": BY_ITSELF,
        "outside": bool(still.boxes("keep")) and _outside(),
        "size": size,
        "view": _visible(still, size),
    }


def _visible(still: Still, size: tuple[int, int]) -> Box:
    """Return the part of a picture that its crop leaves, as a build reckons it."""
    from mmbuilder.scrub.stills import corner

    left, top = corner(still.crop)
    right, bottom = size
    if still.crop:
        right = min(right, floor(still.crop[0] + still.crop[2]))
        bottom = min(bottom, floor(still.crop[1] + still.crop[3]))
    return left, top, max(0, right - left), max(0, bottom - top)


def _others(still: Still, listed: Sequence[Still], size: tuple[int, int]) -> Iterator[tuple[int, bool]]:
    """Yield the other pictures of the same size, and whether each comes from the same device."""
    for other in listed:
        try:
            alike = other.number != still.number and _pictures().size(_path(other)) == size
        except FileRefused:
            continue
        if alike:
            yield other.number, bool(still.device) and other.device == still.device


def _drawn(still: Still, listed: Sequence[Still], chosen: str = "") -> dict[str, Any]:
    """Return the boxes as markup, and a stamp that changes with it."""
    view = _view(still, listed, _pictures().size(_path(still)), chosen)
    # Past the context of whole pages: what they have in common is not asked for at every box.
    made = {
        part: current_app.jinja_env.get_template(f"cover_{part}.html.j2").render(
            **view, revision=desk().revision(), reasons=REASONS
        )
        for part in ("panel", "overlay")
    }
    stamp = hashlib.sha256("".join(made.values()).encode()).hexdigest()[:16]
    return {**made, "stamp": stamp, "looking": view["look"].running}


# What is asked for

_Asked = Mapping[str, str]


def _asked() -> _Asked:
    if not request.is_json:
        return {key: ",".join(values) for key, values in request.form.lists()}
    body = request.get_json()
    if not isinstance(body, dict):
        abort(400)
    return {
        str(key): ",".join(map(str, value)) if isinstance(value, list) else str(value)
        for key, value in body.items()
    }


def _accept(tree: Any, still: Still, asked: _Asked) -> tuple[str, str]:
    found = _proposed(still, asked.get("box", ""))
    said, chosen = _cover(tree, still, [found], "Covered.")
    return said, _next(still, found) or chosen


def _accept_all(tree: Any, still: Still, asked: _Asked) -> tuple[str, str]:
    found = _open(still, _look(still))
    said, _ = _cover(tree, still, found, f"{_count(len(found), 'proposal')} covered.")
    return said, ""


def _cover(tree: Any, still: Still, found: Sequence[Proposal], said: str) -> tuple[str, str]:
    place = 0
    for each in found:
        for box in each.boxes:
            place = cases.add(tree, still.number, "cover", box, each.kind)
    return said, f"cover-{place}"


def _reject(tree: Any, still: Still, asked: _Asked) -> tuple[str, str]:
    found = _proposed(still, asked.get("box", ""))
    place = cases.add(tree, still.number, "keep", found.box, _why(asked))
    after = _next(still, found)
    return f"It stays in view.{'' if after else _none_covered(tree, still)}", after or f"keep-{place}"


def _reject_all(tree: Any, still: Still, asked: _Asked) -> tuple[str, str]:
    found, why = _open(still, _look(still)), _why(asked)
    for each in found:
        cases.add(tree, still.number, "keep", each.box, why)
    return f"{_count(len(found), 'proposal')} left in view.{_none_covered(tree, still)}", ""


def _none_covered(tree: Any, still: Still) -> str:
    """Say with the last decision that nothing is covered, where all that was found stays."""
    if still.said or _look(still).running:
        return ""
    cases.say_nothing(tree, still.number)
    return " With that, nothing is to be covered in this picture."


def _next(still: Still, decided: Proposal) -> str:
    """Return what is to be decided after a proposal, by its name on the page; empty if nothing is."""
    left = [one.key for one in _open(still, _look(still))]
    after = left[left.index(decided.key) + 1 :]
    return next(iter((*after, *(key for key in left if key != decided.key))), "")


def _add(tree: Any, still: Still, asked: _Asked) -> tuple[str, str]:
    kind: Kind = "keep" if asked.get("kind") == "keep" else "cover"
    place = cases.add(tree, still.number, kind, _box(still, asked), _why(asked))
    return f"Box {'C' if kind == 'cover' else 'K'}{place + 1} is there.", f"{kind}-{place}"


def _change(tree: Any, still: Still, asked: _Asked) -> tuple[str, str]:
    kind, place = _named(asked)
    box = _box(still, asked) if "left" in asked else None
    cases.change(tree, still.number, kind, place, box, _why(asked) if "why" in asked else None)
    return "Kept.", f"{kind}-{place}"


def _remove(tree: Any, still: Still, asked: _Asked) -> tuple[str, str]:
    cases.remove(tree, still.number, *_named(asked))
    return "Deleted.", ""


def _nothing(tree: Any, still: Still, asked: _Asked) -> tuple[str, str]:
    look = _look(still)
    if look.running:
        raise FileRefused("this picture is still being looked at; say so once everything found is decided")
    if _open(still, look):
        raise FileRefused(
            "something found in this picture is not decided; cover it or leave it in view first"
        )
    cases.say_nothing(tree, still.number)
    return "Nothing to cover in this picture.", ""


def _copy(tree: Any, still: Still, asked: _Asked) -> tuple[str, str]:
    """Put one box, or all of this picture, into other pictures of the same size."""
    chosen = asked.get("box", "")
    boxes: list[tuple[Kind, Box, str]] = [
        (one.kind, one.box, one.why) for one in still.drawn if one.box and chosen in ("", one.key)
    ]
    alike = dict(_others(still, _stills(), _pictures().size(_path(still))))
    numbers = [int(one) for one in asked.get("to", "").split(",") if one.isdecimal() and int(one) in alike]
    if not boxes or not numbers:
        raise FileRefused("choose at least one other picture, and have at least one box here")
    done = cases.copy(tree, boxes, numbers)
    where = " and ".join(map(str, numbers))
    return f"{_count(done, 'box').replace('boxs', 'boxes')} put into picture {where}.", chosen


_ACTIONS: Mapping[str, Callable[[Any, Still, _Asked], tuple[str, str]]] = {
    "accept": _accept,
    "accept-all": _accept_all,
    "reject": _reject,
    "reject-all": _reject_all,
    "add": _add,
    "change": _change,
    "remove": _remove,
    "nothing": _nothing,
    "copy": _copy,
}


def _proposed(still: Still, key: str) -> Proposal:
    found = next((one for one in _open(still, _look(still)) if one.key == key), None)
    if found is None:
        raise FileRefused("this is not proposed any more; look at the picture as it is now")
    return found


def _named(asked: _Asked) -> tuple[Kind, int]:
    word, _, place = asked.get("box", "").partition("-")
    kind: Kind | None = next((kind for kind in KINDS if kind == word), None)
    if kind is None or not place.isdecimal():
        abort(400)
    return kind, int(place)


def _why(asked: _Asked) -> str:
    why = " ".join(asked.get("why", "").split())
    if len(why) > MOST_WHY or not all(letter.isprintable() for letter in why):
        raise FileRefused(f"a reason has at most {MOST_WHY} characters on one line, such as: scale bar")
    return why


def _box(still: Still, asked: _Asked) -> Box:
    width, height = _pictures().size(_path(still))
    try:
        left, top, wide, high = (int(asked.get(side, "")) for side in ("left", "top", "width", "height"))
    except ValueError:
        raise FileRefused(
            "left, top, width and height are whole numbers of pixels, such as 0, 0, 640, 34"
        ) from None
    if left < 0 or top < 0 or wide < 1 or high < 1 or left + wide > width or top + high > height:
        raise FileRefused(
            f"this box does not lie on the picture: from {left}, {top} to {left + wide}, {top + high}; "
            f"the picture is {width} x {height} pixels"
        )
    return left, top, wide, high
