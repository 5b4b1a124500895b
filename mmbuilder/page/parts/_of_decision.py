"""The parts of a decision in lines of the note: its time, the ways forward, what was chosen, and why."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import groupby

from mmbuilder.page.form.targets import held, offered
from mmbuilder.page.parts import _note as kept
from mmbuilder.page.parts import _ways
from mmbuilder.page.parts._headed import counts, listed
from mmbuilder.page.parts._known import Known
from mmbuilder.page.parts._note import Line
from mmbuilder.page.parts._parted import Parted
from mmbuilder.page.parts._stated import stated
from mmbuilder.page.parts._typed import of_an_eye

NAME = "decisions/question"

_CLAUSE = re.compile(
    r"\s*;\s*|(?<=[.?!])\s+"
    r"|,?\s+(?=(?:because|coz|cos|b/c|reason:|could have|might have|(?:i |we )?thought)\b)",
    re.IGNORECASE,
)
_SENTENCE = re.compile(r"\s*;\s*|(?<=[.?!])\s+")
_OPTION = re.compile(
    r"(?:(?:alternatives?|options?)\s*[:?]?\s+|(?:i |we )?(?:could|might|should) have\s+|(?:or|either)\s+)",
    re.IGNORECASE,
)
_COULD = re.compile(r"(?:(?:i|we) )?(?:could|might) have\s*:\s*", re.IGNORECASE)
_LISTED = re.compile(rf"\s*[,;]\s+(?:or\s+)?{_ways.OUTSIDE}|\s+or\s+{_ways.OUTSIDE}", re.IGNORECASE)
"""`could have: waited, asked for help, or stopped`: a list of ways forward."""
_TAKEN = re.compile(r"(?:i |we )?(?:decided|chose|went for|opted for)(?: (?:to|on))?\s+", re.IGNORECASE)


def parted(words: str, known: Known) -> Parted:
    """Take a decision apart. What stands behind no word for a way forward or a reason stays the question."""
    at, words = _at(" ".join(words.split()), known)
    if told := stated(words):
        return _made(at, *told)
    if _ways.BETWEEN.search(words):
        return _beside_each_other(at, words)
    if found := _AGAINST.fullmatch(words) or _DISCUSSED.fullmatch(words):
        return _weighed(at, found)
    if found := _BESIDES.fullmatch(words):
        return _weighed(at, found, _LISTED.split(found["more"]))
    if found := _ELSE.fullmatch(words):
        options = [found["one"].strip(" ,"), *_OTHERS.split(found["other"].strip(" ."))]
        return _made(at, _asked(options), _ways.Ways(tuple(options), options[0]))
    if found := _OVER.fullmatch(words):
        return _taken(at, found)
    question, options, taken = list[str](), list[str](), list[str]()
    plain_is_option = not words.rstrip(" .").endswith("?")
    for clause in filter(None, (one.strip(" .,") for one in _CLAUSE.split(words))):
        if could := _COULD.match(clause):
            options += _LISTED.split(clause[could.end() :])
        elif chosen := _TAKEN.match(clause):
            taken.append(clause[chosen.end() :])
            options.append(taken[-1])
        elif option := _OPTION.match(clause):
            options.append(clause[option.end() :])
        elif clause.endswith("?") or not (plain_is_option or _ways.is_reason(clause)):
            question.append(clause)
        else:
            options += _OR.split(clause) if _AGAINST_EACH.search(clause) else [clause]
    ways = _ways.read(options)
    if not ways.chosen and len(taken) == 1:
        ways = replace(ways, chosen=next((one for one in ways.options if taken[0].startswith(one)), ""))
    weighed = not question and _AGAINST_EACH.search(words) is not None
    return _made(at, _asked(ways.options) if weighed else " ".join(question), ways)


def _made(at: str, question: str, ways: _ways.Ways, visible: str = "") -> Parted:
    fields = {"at": at, "visible": visible, "options": "\n".join(ways.options), "chosen": ways.chosen}
    fields["because"] = ". ".join(ways.reasons)
    return Parted(question, {key: value for key, value in fields.items() if value})


def _asked(ways: Iterable[str]) -> str:
    """The question which of some ways forward it was to be."""
    asked = ", or ".join(filter(None, ways))
    return f"{asked[:1].upper()}{asked[1:]}?" if asked else ""


def _beside_each_other(at: str, words: str) -> Parted:
    """`oozing: more pressure (did) / Pringle. raised as quick`: ways, what about, and what stands behind.

    A sentence before them tells what could be seen, or asks; one behind them is the reason.
    """
    sentences = [one for one in _SENTENCE.split(words) if one]
    first = next(place for place, one in enumerate(sentences) if _ways.BETWEEN.search(one))
    seen, behind = sentences[:first], [*filter(None, map(_ways.without_thought, sentences[first + 1 :]))]
    asked = seen.pop() if seen and seen[-1].endswith("?") else ""
    about, entries = _about(sentences[first].rstrip(" ."))
    told = {told for one in behind if (told := _ways.told_by(one, _ways.read(entries).options))}
    gone = [one for one in behind if not told and _ways.gone_on(one)]
    beside = [one for one in behind if one not in gone]
    ways = _ways.read([*entries, *(one if _ways.stands_alone(one) else f"because {one}" for one in beside)])
    if not ways.chosen and len(told) == 1:
        ways = replace(ways, chosen=told.pop())
    question = asked or (f"{about}: {_lower(_asked(ways.options))}" if about else _asked(ways.options))
    ways = _then(ways, gone)
    return _made(at, question[:1].upper() + question[1:], ways, " ".join(seen).strip(" ,;.…"))


def _about(sentence: str) -> tuple[str, list[str]]:
    """What stands before the colon of ways forward, and each of them."""
    entries = [one for one in _ways.BETWEEN.split(sentence) if one.strip()]
    about, colon, first = entries[0].partition(": ")
    if not colon or _ways.is_taken(f"{about}:"):
        about, first = "", entries[0]
    about = _CALLED.sub("", about) or about
    led = _OPTION.match(f"{about} ") if about else _OPTION.match(first)
    if led is not None:
        about, first = "", first if about else first[led.end() :]
    return about.strip(), [first, *entries[1:]]


_CALLED = re.compile(r"[\s,;.]+(?:options?|choices?)(?:\s(?:was|were|are|now))*$", re.IGNORECASE)
"""Behind what a decision is about: `cloth torn, options now`."""


def _lower(words: str) -> str:
    """Words without the capital that began them; capitals that are short for a thing stay."""
    return words[:1].lower() + words[1:] if words[1:2].islower() else words


_AGAINST = re.compile(
    r"(?P<seen>.*?)[,;.]*\s*(?:discussed (?:w/|with) [^,;.:]+[,;:]\s*)?"
    r"\b(?:options?|choices?|ways forward)\b(?:\s+(?:was|were|are|now))*\s*[:,–—-]*\s*"
    rf"(?P<ways>[^.;]*?\s(?:vs\.?|versus|or)\s{_ways.OUTSIDE}[^.;]*)[.;]?\s*(?P<then>.*)",
    re.IGNORECASE | re.DOTALL,
)
"""What could be seen, the ways forward against each other, and what was done then."""
_HOUR = r"(?:[01]?\d|2[0-3])[:.]?[0-5]\d"
_DISCUSSED = re.compile(
    r"(?P<seen>[^:]*?)[,;.]*\s*\b(?:discussed|considered|debated|weighed(?: up)?)\b(?: (?:w/|with) [^,;.:]+)?"
    r"\s*[:,–—-]*\s*"
    rf"(?P<ways>[^.;]*?\s(?:vs\.?|versus)\s{_ways.OUTSIDE}[^.;]*)[.;]?\s*(?P<then>.*)",
    re.IGNORECASE | re.DOTALL,
)
"""`no clear view. discussed: A vs B vs C. Carried on - nearly there`."""
_BESIDES = re.compile(
    rf"(?P<ways>[^.:;]*?\s(?:vs\.?|versus)\s{_ways.OUTSIDE}[^:;]*?)(?:\s(?:at\s)?{_HOUR})?\s*[:;.]\s*"
    r"(?:(?:also|we|i)\s)*(?:considered|thought of|discussed)\s*:?\s+(?P<more>[^.;]+)[.;]?\s*"
    r"(?P<then>.*)(?P<seen>)",
    re.IGNORECASE | re.DOTALL,
)
"""`carry on vs bail out: considered C, D. carried on as nearly there`."""
_ELSE = re.compile(
    r"(?P<one>[^:.;]{3,80}):\s*(?:the\s)?(?:only\s)?(?:alternatives?|other (?:option|way)s?)"
    r"\s(?:was|were|would have been)\s+(?P<other>[^;]+)",
    re.IGNORECASE,
)
"""`clips in the pool: alternative was to press and convert`: what stands before it was done."""
_OR = re.compile(rf",?\s+(?:vs\.?|versus|or)\s+{_ways.OUTSIDE}", re.IGNORECASE)


_AGAINST_EACH = re.compile(r"\s(?:vs\.?|versus)\s", re.IGNORECASE)


def _weighed(at: str, found: re.Match[str], more: Iterable[str] = ()) -> Parted:
    """A decision whose ways forward stand against each other; the question is which of them."""
    ways = _ways.read(one.strip(" ,.") for one in (*_OR.split(found["ways"]), *more))
    asked = _asked(ways.options)
    return _made(at, asked, _then(ways, _SENTENCE.split(found["then"].strip())), found["seen"].strip(" ,;.…"))


def _then(ways: _ways.Ways, sentences: Iterable[str]) -> _ways.Ways:
    """Ways forward with how it went on, or the reason, as told behind them; a thought of later is none."""
    for one in sentences:
        gone = _ways.gone_on(one) if not ways.chosen else None
        if gone is not None:
            told = _ways.told_by(gone[0], ways.options)
            options = ways.options if told else (*ways.options, gone[0])
            ways = replace(ways, options=options, chosen=told or gone[0])
        why = gone[1] if gone is not None else _ways.without_thought(one)
        ways = replace(ways, reasons=(*ways.reasons, *filter(None, [why])))
    return ways


_OVER = re.compile(
    r"\W*(?:\d{1,2}\)\s*)?(?P<one>[^.;?]+?)"
    r"\s+(?P<by>rather than|instead of|vs?\.?|versus)\s+(?P<other>[^.;?]+?)\W*",
    re.IGNORECASE,
)
"""`push on rather than stop`, `stent v open`: ways forward; only the first form says which was taken."""
_OTHERS = re.compile(r",?\s+(?:vs?\.?|versus|or)\s+", re.IGNORECASE)


def _taken(at: str, found: re.Match[str]) -> Parted:
    ways = _ways.read([found["one"], *_OTHERS.split(found["other"])])
    if found["by"].lower() in ("rather than", "instead of"):
        ways = replace(ways, chosen=ways.options[0])
    return _made(at, _asked(ways.options), ways)


def _at(words: str, known: Known) -> tuple[str, str]:
    """Return the time it was made at, if one alone is told, and the words without it where it leads them."""
    times = kept.times(words, dial=of_an_eye(dict(known.tree)))
    if len(times) != 1:
        return "", words
    lead = re.compile(rf"(?:at\s+)?{re.escape(times[0])}[\s,:;.–—-]*", re.IGNORECASE).match(words)
    return times[0], words[lead.end() :] if lead else words


# Lines that belong to one decision


def each(lines: Sequence[Line]) -> Iterator[tuple[Line, ...]]:
    """Yield the lines of a note, those that are ways forward of one decision together."""
    for (under, _), group in groupby(enumerate(lines), lambda one: (one[1].under, one[0] - one[1].number)):
        run = [line for _, line in group]
        target = offered(under)
        if target is None:
            yield from _alone(run)
        else:
            yield from _decisions(run) if target.name == NAME else ((line,) for line in run)


def _alone(run: Iterable[Line]) -> Iterator[tuple[Line, ...]]:
    """Yield lines one by one; a sentence that tells what was chosen, or why, goes with its decision."""
    made = list[list[Line]]()
    for line in run:
        above = made[-1] if made and line.follows else None
        found = held(above[0].said) if above and not above[0].heading else None
        if above and found and found.name == NAME and _ways.settles(line.said) and not kept.times(line.said):
            above.append(line)
        else:
            made.append([line])
    yield from map(tuple, made)


def _decisions(run: Sequence[Line]) -> Iterator[tuple[Line, ...]]:
    """Yield the lines of each decision below one heading."""
    begins, made = _begins(run), list[list[Line]]()
    for line in run:
        follows = made and not made[-1][0].heading and not line.heading
        if follows and (_ways.stands_alone(line.said) or not begins(line)):
            made[-1].append(line)
        else:
            made.append([line])
    yield from map(tuple, made)


_AT_A_TIME = re.compile(rf"\W*(?:at\s+)?~?{_HOUR}\b", re.IGNORECASE)
_WAYS_BELOW = re.compile(r"\W*(?:options?|opts|alternatives?|choices?|could have)\b", re.IGNORECASE)
_ONE_BELOW = re.compile(r"\W*decision\b", re.IGNORECASE)


def _begins(run: Sequence[Line]) -> Callable[[Line], bool]:
    """Return what tells whether a line below a heading begins a decision, or is a way forward of the last."""
    entries = [one for one in run if not one.heading and not _ways.stands_alone(one.said)]
    if any(_ways.holds_several(one.said) for one in entries):
        return lambda line: _ways.holds_several(line.said) or listed(line.text) or not line.follows
    if sum(_AT_A_TIME.match(one.said) is not None for one in entries) > 1:  # each at its own
        return lambda line: _AT_A_TIME.match(line.said) is not None or _counts(line)
    if any(map(_counts, entries)) and any(map(_signed, entries)):
        return lambda line: not _signed(line)  # numbers count decisions, signs their ways forward
    under, taken = run[0].under, sum(_ways.is_taken(one.said) for one in entries)
    one = _WAYS_BELOW.match(under) or taken == 1 or (_led(entries) and _ONE_BELOW.match(under))
    return lambda _: not one


def _counts(line: Line) -> bool:
    return counts(line.text)


def _signed(line: Line) -> bool:
    """Whether a sign or a letter leads a line as an entry of a list, and no number does."""
    return listed(line.text) and not counts(line.text)


def _led(entries: Sequence[Line]) -> bool:
    """Whether the first of several lines says what the others, which are marked as a list, are about."""
    return len(entries) > 1 and not _marked(entries[0]) and _marked(entries[1])


def _marked(line: Line) -> bool:
    """Whether a line, or what stands behind its opening, begins as an entry of a list."""
    target = offered(line.text)
    return listed(target.rest(line.text) if target else line.text)


def of_lines(lines: Sequence[Line], known: Known) -> Parted:
    """Take a decision apart that stands on several lines: what it is about, its ways forward, a reason."""
    entries, beside = [lines[0]], list[str]()
    in_list = _marked(lines[0]) or _ways.holds_several(lines[0].said)
    for line in lines[1:]:
        marked = _marked(line)
        settles = line.follows and _ways.settles(line.said)
        if settles or _ways.stands_alone(line.said) or (in_list and not marked):
            beside.append(line.said)
        else:
            entries.append(line)
        in_list = in_list or marked
    if len(entries) == 1:
        return parted("; ".join([entries[0].said.strip(" ."), *beside]), known)
    led = _led(entries) or (_counts(entries[0]) and _signed(entries[1]))
    at, first = _at(entries[0].said, known)
    at = at or _at(lines[0].under, known)[0]
    said = [first, *(line.said for line in entries[1:])]
    about = said.pop(0).strip(" :–—-") if led else ""
    ways = _ways.read([*said, *(one if _ways.stands_alone(one) else f"because {one}" for one in beside)])
    asked = about if about.endswith("?") else f"{about}: {_lower(_asked(ways.options))}".removeprefix(": ")
    return _made(at, asked[:1].upper() + asked[1:], ways)
