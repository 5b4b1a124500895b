"""Names where no capital tells: in notes in small letters, and in notes that are all capitals (read as small ones).

    pt of mr ashgrove-bells · nok: tui · cons lee, reg park · 1 pell d2 tkr, 2 osgood · thx, bex · INTERPRETER (DARI) PALWASHA

A word that stands on no list is a name beside very little; one that is also a word of the language or an eponym, only
where nothing but a person can stand, and where what follows reads on.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache
from typing import TYPE_CHECKING

from mmbuilder.scrub.abbreviations import ABBREVIATIONS
from mmbuilder.scrub.keep.likeness import log_odds
from mmbuilder.scrub.keep.words import fold
from mmbuilder.scrub.kin import PATTERN as KIN
from mmbuilder.scrub.words import word_set

if TYPE_CHECKING:
    from mmbuilder.scrub.keep.lists import Lists

REASON = "a word in the place of a person"
ALONE = "on no list, in a note whose capitals tell nothing"

_TOKEN = re.compile(r"[^\W\d_]+(?:['’][^\W\d_]+)*")
_ROLE = (
    r"hca|odp|oda|ot|physio|sho|spr|reg|registrar|cons|consultant|fy\d|f[12]|st\d|ct\d|anaes|anaesthetist|anesthetist|nurse|s/n|sn|rn|np|pa|cnm|crna"
    r"|midwife|porter|radiographer|pharmacist|pharm|dietitian|dietician|student|sister|sr|matron|perfusionist|surgeon|assistant|asst|runner|scrub|gp|slt|salt"
    r"|cns|anp|acp|secretary|paramedic|crew|interpreter|chaplain|imam|rabbi|elder|pastor|canon|vicar|priest|driver|locum|endoscopist|hv|health\svisitor|social\sworker"
    r"|sw|tl|team\sleader|chair|rep|officers?|pc|wpc|ps|sgt|sergeant|constable|podiatrist|orthotist|optometrist|dentist|psychologist|counsellor|advocate|specialist\snurse"
    r"|stoma\snurse|district\snurse|dn|practice\snurse|school\snurse|teacher|coach|warden|manager|clerk|ward\sclerk|receptionist|technician|tech|cleaner|volunteer"
    r"|resident|intern|fellow|attending|operator|supervisor|witness(?:ed\sby)?|chaperone|recorder|maj|capt|cpl|lt|col|prof|professor|doctor|dr|mr|mrs|ms|miss|mx|master|a/prof"
    r"|doc|mister|baby\sof|baby\sboy|baby\sgirl|family\sof|parents\sof|mother\sof|patient|pt|client|name|surname|forename|first\sname|named|called"
)
_DONE_BY = (
    r"(?:seen|rv|rvd|reviewed|done|closed|opened|scrubbed|consented|clerked|written|signed|counted|handed\sover|noted|agreed|performed|assisted|asstd|asst|assist|driven"
    r"|brought\sin|found|called|referred|removed|sited|resited|inserted|placed|taken|given|witnessed|checked|marked|passed|told|informed|supervised|reported|filed|accompanied|discussed|repaired"
    r"|covered|escorted|fitted|read|dictated|typed|prescribed|dressed|bled|cannulated|catheterised|extubated|intubated|anaesthetised|turned|washed|fed|spinal|epidural|block|uss|scan"
    r"|rsi|ga|op|consent|confirmed|requested|organised|chased|cleared|booked|accepted)"
)
_CUE = re.compile(
    rf"(?<![\w'’-])(?P<cue>(?:(?P<kin>{KIN}(?:['’]s\sname(?:\sis)?)?)|(?P<role>(?:{_ROLE})s?(?:['’]s\sname(?:\sis)?)?)|(?P<by>{_DONE_BY}\sby|s/b|d/w|dw|u/c|h/o\s(?:to|from)|i/c|c/o\sdr|per|r/v\sby|seen\swith|discussed\swith|(?:assessment|clinic|visit|appointment|appt|review|meeting|session)(?:\s[a-z0-9]+){0, 2}\swith|spoke\s(?:to|with|w)|"
    r"agreed\swith|checked\swith|w/|d/w\s(?:mr|dr)|asked|told|rang|ring|bleep|bleeped|page|paged|text|texted|phone|phoned|informed|inform|thank|thanked|msg\sfrom|message\sfrom|email\sfrom|call\sfrom|note\sfrom|letter\sfrom"
    r"|letter\sto|copy\sto|cc|attn|fao|re|chase\sw|histo\sfor|results?\sfor|notes\s(?:for|of)|under\sthe\scare\sof|admitted\sunder|under|stepped\sin\sfor|swap\swith|cover\sfor|covering\sfor|handover\sfrom|handed\sover\sto))"
    r"|(?P<greet>hi|hey|hello|hiya|dear|thanks|thank\syou|thx|ta|cheers|morning|evening|sorry|bw|kr|rgds|regards|kind\sregards|best\swishes|yours|love))"
    r"(?P<link>\s?[:,(]\s?|\s(?:is\s|was\s|name\s|-\s|–\s)?|\.\s|\s\([a-z]{3,12}\)\s)"
)
_BED = re.compile(
    r"(?<![\w.,/-])(?:(?:bed|bay|room|rm|cot|chair|trolley|case|no\.?|theatre|cubicle|sr)\s)?\d{1,2}[a-d]?(?:\s(?:is|has|-|–)\s|[.:)]?\s(?:mrs?\s|ms\s|miss\s|dr\s)?)(?=[^\W\d_])"
)
_STATE = re.compile(
    r"\s(?:d\d|day\s\d|pod|post|on\s|for\s|needs|home|ct\b|tci|nbm|ready|waiting|awaiting|to\s|in\s|d/c|dc\b|sats|bp|temp|pyrexial|stable|sick|spiking|off\s|has\s|is\s|was\s|s/p|#|nof|tkr|thr|lap|appx|\d{2}[mfy]|,\s?\d)"
)
_HANDED = re.compile(r"handover|hand\sover|list|board|round|beds?\b|bay\b|sick\spts|jobs|ward")
_SICK_LIST = re.compile(r"handover|hand\sover|sick\spts|jobs\slist|board\sround")
_AFTER = re.compile(
    r"(?<![\w'’-])(?P<name>[^\W\d_]+(?:[-'’][^\W\d_]+)*(?:\s(?:and|&)\s[^\W\d_]+|\s[^\W\d_]+(?:[-'’][^\W\d_]+)*)?)\s(?:rang|phoned|says|said|asked|aware|informed|agreed|scrubbed|scrubbing|assisting|assisted|gas(?:sing)?|running|attended|happy\sto"
    r"|on\sthe\sphone|on\scall|on\snights|on\sher\sway|on\shis\sway|visiting|to\s(?:review|recheck|call|chase|see|ring|scrub|close|decide|rv|write|follow|speak|talk|do)|speaks\sfor|turned\shim|turned\sher|thinks|wants|reports|insists|denies|refus(?:es|ed)|kept|keeps"
    r"|took\s(?:the|over|him|her)|brought|closing|opened\sthe|closed\sthe|reassured|mobilised|self[\s-]discharged|slept|vomited|fell|collapsed|arrested|bled|went\sto|moved\sto|next\sto|in\sbay|in\sbed|in\sroom|in\srecovery|in\sresus"
    r"|has\s(?:a\s|had|been|not|no\s)|needs|from\s(?:recovery|pathology|the\slab|lab|blood\sbank|pharmacy|micro|theatre|estates|biomed|switch|itu|icu|histo|x-?ray|radiology|ct)|dictated|wrote|handed\sover|\((?:hca|odp|physio|ot|sho|reg|cons|nurse|wife|son|daughter|mum|dad|sister|brother|st\d|ct\d|fy\d|rn|sn|partner|husband)\))(?!\w)"
)
_AGE = re.compile(
    r"(?:^|(?<=[.;:]\s)|(?<=\(chair\s))(?P<name>[^\W\d_]+(?:[-'’][^\W\d_]+)*(?:\s[^\W\d_]+(?:[-'’][^\W\d_]+)*|\s[a-z]\.){0,3})(?:,\s(?=[1-9]\d?\s?,)|,?\s(?=[1-9]\d?\s?(?:yo\b|y/o|yrs?|years|y\b|m\b|f\b|/12\b)))"
)
_INITIAL_BEHIND = re.compile(
    r"(?<![\w'’-])(?P<name>(?P<word>[^\W\d_]{3,}(?:-[^\W\d_]+)?)\s[a-km-qs-z]\.)(?=[,;)]|\s[a-z(]|$)"
)
_MESSAGE_FROM = re.compile(
    r"(?<!\w)(?:msg|message|email|text|voicemail|call)\sfrom\s(?P<name>[^\W\d_]{3,})(?=:)"
)
_SURNAME_FIRST = re.compile(
    r"(?:^|(?<=[.;:]\s)|(?<=pt\s)|(?<=patient\s))(?P<name>(?P<last>[^\W\d_]{3,}(?:-[^\W\d_]+)?),\s(?P<first>[^\W\d_]{3,}))(?=[.;]|\s(?:dob|mrn|nhs|hosp|unit|age))"
)
_TEAM = re.compile(
    r"(?:^|(?<=[,:;.]\s))(?P<name>[^\W\d_]{3,})\s(?:assisting|assisted|gassing|gas|scrubbing|scrubbed|circulating|running|camera)(?=[,.;]|$)"
)
_BORN = re.compile(r"(?:^|(?<=[.;:]\s))(?P<name>[^\W\d_]{3,})\swas\s(?:born|delivered)(?!\w)")
_PLACES = word_set(
    "ward theatre theatres lab labs switch switchboard pharmacy radiology micro icu itu hdu recovery gp ed clinic family home blood bank xray histo path estates"
)
_SIGNED = re.compile(r"(?:(?<=[.,!?]\s)|(?<=[-–—]\s)|(?<=\n))(?P<name>[^\W\d_]{2,12})[.!]?\s?x{0,3}$")
_FOLLOWS = re.compile(r"(?:\s?[,.;:)(/&?!]|$|\s(?:-|–|&|\+))")
_READS_ON = word_set(
    """
    is was has had will would can could says said asked rang phoned came went aware informed present attended visiting unhappy happy upset worried on at in and
    to re with w for from who in paying brought thinks thought wants wanted agreed agrees scrubbed reviewed did took told reports reported
    """
)
_PARTICLES = word_set(
    "van von der den de del della di da dos das du la le los las ter ten bin binti bint ibn al el abu mac mc ó o ni nic st san santa um umm abd abdul"
)
_SHORT_SURNAMES = word_set(
    "ng le li lee lu ma wu xu yu he hu ho su so oh an vo do bui ko yi ha mo ye lo tu go he yo ng tan lim ong goh koh teo toh sim wee yap"
)
_NEVER = word_set(
    """
    will may can hand mark rob pat bill sue grant drew chance young old long short small little large strong good best bright sweet wise hardy sharp keen savage noble
    moody grave graves stark hope wild best rich poor still day days week weeks hour minute case cases close open ward bank bay bed post still drain down pain
    page rest back well wells tube line lines need needs home head major minor left right early late mean more most less
    """
)
"""Words that are names too, and stand after a role or a relative as words more often: `wife will come`, `pt young and fit`."""
_NO_PERSON = word_set(
    """
    the a an his her their our my your this that these those it its he she they we you i who no not and or but if then when while as at by for from in of on off to up with w wo via per re aware
    unable able keen list team teams round rounds ward bay bed clinic call calls cover only also all any both each some other same new next last first second third mane nocte stat
    me us him them someone somebody anyone nobody everyone one two three four five six seven pls please asap today tonight tomorrow yesterday
    """
)
_ENGLISH = re.compile(
    r"(?<!\w)(?:the|with|and|by|for|on|at|done|then|in|of|is|was|to|no|pt|w|re|from|not|but|has|had|pls|off|out|up|after|home|bed|seen|all|left|right|day|x2|ok|new|post|today)(?!\w)"
)
_FOREIGN = re.compile(
    r"(?<!\w)(?:el|los|las|del|una|con|por|der|das|und|mit|wurde|nach|les|des|une|avec|pour|dans|il|gli|della|dopo|per\sil|os|uma|foi|com|og|ikke|blev|och|inte|ka|ki|ko|hai|ne|jest|przez|dnia|het|een|voor)(?!\w)",
    re.IGNORECASE,
)


def in_small(text: str, lists: Lists) -> Iterator[tuple[int, int, str]]:
    """Yield start, end and reason of each name in one sentence that is in small letters or all capitals."""
    low = _lowered(text)
    if low is None:
        return
    found: list[tuple[int, int, str]] = []
    tokens = [(match.start(), match.end()) for match in _TOKEN.finditer(low)]
    for start, end in _cued(low, lists):
        found.append((*_whole(low, tokens, start, end, lists), REASON))
    for start, end in _by_what_follows(low, lists):
        found.append((*_whole(low, tokens, start, end, lists), REASON))
    if _ENGLISH.search(low) and len(_FOREIGN.findall(low)) < 2:
        for start, end in _alone(low, tokens, lists, capitals=low != text):
            found.append((*_whole(low, tokens, start, end, lists), ALONE))
    yield from dict.fromkeys(found)


def _lowered(text: str) -> str | None:
    """The text in small letters where it is a hurried note or all capitals; None where capitals tell."""
    if text.isupper() or _mostly_capitals(text):
        low = text.lower()
        return low if len(low) == len(text) else None
    opens = next((letter for letter in text if letter.isalpha()), "")
    return text if opens.islower() or _few_capitals(text) else None


def _mostly_capitals(text: str) -> bool:
    letters = [letter for letter in text if letter.isalpha()]
    return len(letters) > 8 and sum(map(str.isupper, letters)) > 0.8 * len(letters)


def _few_capitals(text: str) -> bool:
    return not any(letter.isupper() for letter in text)


@lru_cache(maxsize=16_384)
def _kind(word: str) -> str:
    """What a small word may be: `N` a name and nothing else, `W` a name and a word, `E` an eponym, empty for a word."""
    from mmbuilder.scrub.acting import unlisted
    from mmbuilder.scrub.keep.lists import load

    lists, plain = load(), fold(word)
    if (
        plain in _NO_PERSON
        or plain in lists.roles
        or plain in lists.titles
        or (plain in lists.auxiliaries and word != "will")
    ):
        return ""
    if plain in lists.months and plain not in ("may", "june", "april", "august", "summer", "autumn", "dawn"):
        return ""
    if unlisted(word, lists) and word.upper() not in ABBREVIATIONS:
        return "N" if len(word) > 2 else ""
    if word == "will":
        return "W"
    called = lists.called(plain)
    if plain in lists.given or plain in lists.family or plain in lists.word_names:
        if plain in lists.verbs_after or called not in (None, "an ordinary word", "anatomy"):
            return ""
        return "E" if plain in lists.eponym_words and plain not in lists.word_names else "W"
    if plain in lists.eponym_words and plain not in lists.heads and called is None:
        return "E"
    return ""


def _reads_on(low: str, end: int) -> bool:
    """Whether what follows a name follows: a sign, the end, or a verb of people."""
    if _FOLLOWS.match(low, end):
        return True
    following = re.match(r"\s([^\W\d_]+)", low[end : end + 24])
    return following is not None and following[1] in _READS_ON


def _cued(low: str, lists: Lists) -> Iterator[tuple[int, int]]:
    at = 0
    while cue := _CUE.search(low, at):
        at = cue.start() + 1
        link, start = cue["link"], cue.end()
        if link.startswith(".") and cue["cue"] not in _SHORTENED:
            continue
        token = _TOKEN.match(low, start)
        if token is None:
            continue
        first = _first_of(low, token, lists)
        if first is None:
            continue
        word, end = first
        kind, plain = _kind(word), fold(word)
        if cue["greet"]:
            good = kind in ("N", "W") and plain not in _NEVER and _FOLLOWS.match(low, end) is not None
            good = good and (kind == "N" or plain in lists.given or plain in lists.word_names)
        elif kind == "N":
            good = (
                len(word) > 3
                or plain in lists.given
                or (bool(cue["kin"] or ":" in link) and _reads_on(low, end))
            )
            good = good and not (
                cue["cue"] in _WEAK
                and not (log_odds(plain) > 0 or plain in lists.given or plain in lists.family)
            )
        elif kind in ("W", "E"):
            if _an_eponym_thing(low, end, lists):
                continue
            sure = bool(cue["by"]) and cue["cue"].endswith(" by")
            good = (_reads_on(low, end) or _name_follows(low, end)) and (
                (sure and (plain not in _ORDINARY_AFTER_BY))
                or (kind == "E" and bool(cue["role"]) and _name_follows(low, end))
                or (
                    plain not in _NEVER
                    and (plain in lists.given or plain in lists.family)
                    and cue["cue"] not in _WEAK
                )
            )
            good = good and not (kind == "E" and not (sure or cue["role"] or cue["kin"]))
        else:
            syllables = _short_surname(low, start, lists)
            good = syllables > start or (bool(cue["kin"]) and len(word) == 2 and _two_letters(low, end, word))
            end = max(end, syllables)
        if good:
            yield start, end
            yield from _others_joined(low, end, lists)


_SHORTENED = word_set("pt dr mr mrs ms sr cons reg anaes asst prof nok")
_WEAK = word_set("re under w/ per chair officer called case name named ot pa sw tech fellow operator doc")
_ORDINARY_AFTER_BY = word_set("hand hands day night foot bank car train bus far law post mail machine")


def _first_of(low: str, token: re.Match[str], lists: Lists) -> tuple[str, int] | None:
    """The first word of a name past particles and initials: `de la cruz`, `x. papadimitriou`, `o'shaughnessy`."""
    at = token
    for _ in range(3):
        word = at[0]
        initial = len(word) == 1 and low[at.end() : at.end() + 1] in (".", " ")
        if word not in _PARTICLES and not initial:
            break
        following = _TOKEN.match(low, at.end() + len(re.match(r"[.\s-]*", low[at.end() :])[0]))  # type: ignore[index]
        if following is None:
            break
        at = following
    word = at[0]
    if at is not token and _kind(word) == "":
        return None
    pieces = re.match(r"[^\W\d_]+(?:['’-][^\W\d_]+)*", low[at.start() :])
    whole = pieces[0] if pieces else word
    if _kind(word) == "" and "-" in whole:
        pieces_ = whole.split("-")
        best = next((piece for piece in pieces_ if _kind(piece) == "N" or fold(piece) in lists.given), word)
        return best, at.start() + len(whole)
    return word, at.end()


def _two_letters(low: str, end: int, word: str) -> bool:
    """Whether a name of two letters stands after a relative: `wife jo will drive`."""
    from mmbuilder.scrub.hurried import NO_INITIALS

    return word not in NO_INITIALS and _reads_on(low, end)


def _short_surname(low: str, start: int, lists: Lists) -> int:
    """Where a name of short syllables ends that begins here: `ng wei ling`, `li xiulan`."""
    found = re.match(
        r"([a-z]{2,4})\s([a-z]{2,8})(?:[\s-]([a-z]{2,8}))?(?=[\s,.;:)]|$)", low[start : start + 30]
    )
    if found is None or found[1] not in _SHORT_SURNAMES:
        return -1
    joined = "-" in found[0] and found[3] is not None
    named = joined or all(
        _kind(word) in ("N", "W") or fold(word) in lists.given for word in found.groups()[1:] if word
    )
    return start + found.end() if named else -1


def _an_eponym_thing(low: str, end: int, lists: Lists) -> bool:
    """Whether the noun of an eponym or a measure follows: `asked for foley catheter`."""
    from mmbuilder.scrub.acting import names_a_thing

    following = re.match(r"(?:['’]s)?[\s-]([a-z]+)", low[end : end + 24])
    if following is not None and following[1] not in _READS_ON and names_a_thing(following[1], lists):
        return True
    return re.match(r"\s(?:\d|i{1,3}[ab]?\b|iv\b)", low[end : end + 6]) is not None


def _others_joined(low: str, end: int, lists: Lists) -> Iterator[tuple[int, int]]:
    """Names joined to one that is sure: `from jaz and deano`, `surgeons kannan / idowu`."""
    while found := re.match(r"\s?(?:and|&|\+|/|,)\s([^\W\d_]{3,}(?:[-'’][^\W\d_]+)*)", low[end:]):
        plain = fold(found[1])
        if not (
            _kind(found[1]) == "N" and (log_odds(plain) > 0 or plain in lists.given or plain in lists.family)
        ):
            return
        yield end + found.start(1), end + found.end(1)
        end += found.end(1)


def _by_what_follows(low: str, lists: Lists) -> Iterator[tuple[int, int]]:
    for found in _AFTER.finditer(low):
        opens = found.start() == 0 or low[: found.start()].rstrip()[-1:] in (
            ".",
            ";",
            ":",
            ",",
            "-",
            "–",
            "(",
            "]",
            "",
        )
        words = [match for match in _TOKEN.finditer(found["name"]) if match[0] != "and"]
        if not words:
            continue
        kinds = [_kind(word[0]) for word in words]
        at = found.start("name")
        joined = re.search(r"\s(?:and|&)\s", found["name"]) is not None
        if joined and len(words) == 2 and "N" in kinds and all(kind in ("N", "W") for kind in kinds):
            yield from ((at + word.start(), at + word.end()) for word in words)
            continue
        last = words[-1]
        if kinds[-1] == "N" and (len(last[0]) > 3 or fold(last[0]) in lists.given) and _like(last[0], lists):
            yield at + last.start(), at + last.end()
        elif (
            opens
            and len(words) == 1
            and kinds[0] in ("W", "E")
            and (
                _person_verb(low, found.end("name"))
                or (_SICK_LIST.search(low) and low.startswith((" needs", " has"), found.end("name")))
            )
        ):
            plain = fold(last[0])
            if (plain in lists.given and plain not in _NEVER) or _HANDED.search(low):
                yield at + last.start(), at + last.end()
    for found in _INITIAL_BEHIND.finditer(low):
        plain = fold(found["word"])
        if (
            _kind(found["word"]) == "N"
            or plain in lists.given
            or (plain in lists.word_names and plain not in _NEVER)
        ):
            yield found.span("name")
    for found in _MESSAGE_FROM.finditer(low):
        if not (found["name"] in _NO_PERSON or found["name"] in lists.roles or found["name"] in _PLACES):
            yield found.span("name")
    for found in _SURNAME_FIRST.finditer(low):
        own, given = _kind(found["last"]), _kind(found["first"])
        if (
            own
            and given
            and fold(found["first"]) in lists.given
            and (fold(found["last"]) in lists.family | lists.word_names or own == "N")
        ):
            yield found.span("name")
    for found in _TEAM.finditer(low):
        if found["name"] not in _NO_PERSON | lists.roles and lists.called(found["name"]) is None:
            yield found.span("name")
    for found in _BORN.finditer(low):
        if fold(found["name"]) in lists.given:
            yield found.span("name")
    for found in _AGE.finditer(low):
        words = list(_TOKEN.finditer(found["name"]))
        kinds = [_kind(word[0]) for word in words]
        if not words:
            continue
        if (
            "N" in kinds
            and any(len(word[0]) > 3 for word in words)
            and all(
                kind
                or fold(word[0]) in lists.given
                or word[0] in _PARTICLES | _SHORT_SURNAMES
                or len(word[0]) == 1
                for kind, word in zip(kinds, words, strict=True)
            )
        ) or (
            len(words) == 1
            and kinds[0] in ("W", "E")
            and fold(words[0][0]) in lists.given
            and words[0][0] not in _NEVER
        ):
            yield found.span("name")
    for found in _BED.finditer(low):
        token = _TOKEN.match(low, found.end())
        if token is None or len(token[0]) < 3:
            continue
        kind = _kind(token[0])
        listed = len(_BED.findall(low)) > 1 and _HANDED.search(low) is not None
        bed = re.match(r"(?:bed|bay|room|rm|cot|cubicle|case)", found[0]) is not None
        end = token.end()
        if (
            kind == "N"
            and (bed or listed or re.match(r"\d", found[0]))
            and (_STATE.match(low, end) or _FOLLOWS.match(low, end) or _kind_at(low, end))
            and (bed or listed)
        ) or (
            kind in ("W", "E") and listed and _STATE.match(low, end) and not _an_eponym_thing(low, end, lists)
        ):
            yield token.span()


def _name_follows(low: str, end: int) -> bool:
    """Whether a word that is nothing but a name, or a particle and one, stands right behind: `choi eun-ji`, `bakri al-tamimi`."""
    following = re.match(r"\s(?:(?:al|el|de|van|bin)[\s-])?([^\W\d_]+)", low[end : end + 30])
    return following is not None and _kind(following[1]) == "N"


def _kind_at(low: str, end: int) -> bool:
    following = re.match(r"\s([^\W\d_]+)", low[end:])
    return following is not None and bool(_kind(following[1]))


_PERSON_VERB = re.compile(
    r"\s(?:rang|phoned|says|said|asked|agreed|scrubbed|attended|on\snights|on\scall|visiting|to\s(?:review|recheck|call|chase|see|ring|close|rv|write|speak|decide)|thinks|wants|insists|denies|refus|dictated|wrote|reports|handed\sover|\()"
)


def _person_verb(low: str, end: int) -> bool:
    return _PERSON_VERB.match(low, end) is not None


def _like(word: str, lists: Lists) -> bool:
    plain = fold(word)
    return plain in lists.given or plain in lists.family or log_odds(plain) > 0


_ALONE_LEAST = 5
_ALONE_IN_CAPITALS = 6
_ALONE_LIKE = 0.0


def _alone(
    low: str, tokens: list[tuple[int, int]], lists: Lists, *, capitals: bool
) -> Iterator[tuple[int, int]]:
    """Words on no list that look like a name, with nothing beside them."""
    from mmbuilder.scrub.acting import names_a_thing

    for start, end in tokens:
        word = low[start:end]
        plain = fold(word)
        if len(word) < (_ALONE_IN_CAPITALS if capitals else _ALONE_LEAST) or _kind(word) != "N":
            continue
        listed = plain in lists.given or plain in lists.family
        if not listed and log_odds(plain) < _ALONE_LIKE:
            continue
        following = re.match(r"(?:['’]s)?[\s-]([a-z]+)", low[end : end + 24])
        if following and names_a_thing(following[1], lists):
            continue
        if re.match(
            r"(?:['’]s)?\s(?:\d+(?:\.\d+)?\s?(?:mg|g|ml|mcg|mm|cm|fr|ch|%|units?|od|bd|tds|iv|x)\b|\d+(?:\.\d+)?(?=[,.;)]|$)|i{1,3}v?[ab]?\b)",
            low[end : end + 16],
        ):
            continue
        if re.search(r"(?<!\w)(?:an?|of|de|size|via|using|no)\s$", low[:start]):
            continue
        yield start, end


def _whole(low: str, tokens: list[tuple[int, int]], start: int, end: int, lists: Lists) -> tuple[int, int]:
    """The name with what is part of it: hyphens, particles, initials, and words beside it that are names."""
    first = next((at for at, (begin, _) in enumerate(tokens) if begin >= start), 0)
    last = max(at for at, (begin, _) in enumerate(tokens) if begin < end)
    while last + 1 < len(tokens) and _part(low, tokens, last, last + 1, lists):
        last += 1
    while first > 0 and _part(low, tokens, first - 1, first, lists, back=True):
        first -= 1
    end = max(end, tokens[last][1])
    if low[end - 1 : end].isalpha() and tokens[last][1] - tokens[last][0] == 1 and low[end : end + 1] == ".":
        end += 1
    return min(start, tokens[first][0]), end


def _part(
    low: str, tokens: list[tuple[int, int]], left: int, right: int, lists: Lists, *, back: bool = False
) -> bool:
    gap = low[tokens[left][1] : tokens[right][0]]
    if gap in ("-", "‐", "‑"):
        return True
    here = low[slice(*tokens[left if back else right])]
    plain = fold(here)
    if back:
        if gap == ". " and len(here) == 1:
            return True
        if gap != " ":
            return False
        return (
            (_kind(here) == "N" and (len(here) > 3 or plain in lists.given) and _like(here, lists))
            or (here in _PARTICLES and here not in ("st", "he", "la", "an") and left > 0)
            or (
                plain in lists.given
                and _kind(here) == "W"
                and plain not in _NEVER
                and _whole_given(low, tokens[left][0])
            )
        )
    if gap != " ":
        return False
    if len(here) == 1 and low[tokens[right][1] : tokens[right][1] + 1] == "." and here not in ("l", "r"):
        return re.match(r"\.(?:[,;)\s]|$)", low[tokens[right][1] :]) is not None
    kind = _kind(here)
    if kind == "N":
        end = tokens[right][1]
        return len(here) > 3 or plain in lists.given or plain in lists.family or low[end : end + 1] == "-"
    if here in _PARTICLES:
        after = _TOKEN.match(low, tokens[right][1] + 1)
        return after is not None and _kind(after[0]) == "N"
    if (
        kind in ("W", "E")
        and (plain in lists.family or plain in lists.given)
        and plain not in _NEVER
        and plain not in _READS_ON
    ):
        return _reads_on(low, tokens[right][1]) and not _an_eponym_thing(low, tokens[right][1], lists)
    return False


def _whole_given(low: str, start: int) -> bool:
    """Whether a given name that is a word too opens the sentence or stands after a sign or a number."""
    before = low[:start].rstrip()
    return (
        not before
        or before[-1] in ".,;:(-–"
        or before.split()[-1] in ("is", "called", "pt", "patient", "named", "mr", "mrs", "ms", "by")
    )
