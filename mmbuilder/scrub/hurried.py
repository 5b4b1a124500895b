"""Names in notes written in a hurry, where a person's role, an age, a quotation mark or a small word shows them.

`long scrubbed w me`, `grace (hca)`, `babinski, 54`, `d/w jt`, `real name colm`, `Crohn, Mrs Edwina`, `ring Addison`,
`It was Graves's decision`, `savitri ka phone`, `w.j.p. consented`. A word that is also an eponym or a word of the
language counts here: what stands beside it is said of people only.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING

from mmbuilder.scrub.abbreviations import ABBREVIATIONS
from mmbuilder.scrub.kin import PATTERN as KIN
from mmbuilder.scrub.words import word_set

if TYPE_CHECKING:
    from mmbuilder.scrub.keep.lists import Lists

_CAP = r"[A-Z][a-zà-ÿ]{2,}"
_ROLE = (
    r"(?:hca|odp|oda|ot|physio|sho|spr|reg|registrar|cons|consultant|fy\d|f[12]|st\d|ct\d|anaes|anaesthetist|nurse|midwife|porter|radiographer"
    r"|pharmacist|dietitian|dietician|student|sister|matron|perfusionist|surgeon|runner|scrub|carer|gp|slt|cns|anp|acp|ward\sclerk|receptionist"
    r"|secretary|cleaner|paramedic|interpreter|chaplain|driver|husband|wife|son|daughter|brother|mother|father|partner)"
)
_AT_WORK = (
    r"(?:scrubbed|scrubbing|assisted|assisting|consented|clerked|clerking|anaesthetised|circulating|rang|phoned|says|said|asked|told|noticed"
    r"|reviewed\spt|bleeped|paged|documented|handed\sover|came\sto|took\sover|covering|on\scall)"
)

_OPENS_SMALL = re.compile(
    rf"^(?P<name>[a-z]{{3,}})(?:\s(?={_AT_WORK}(?!\w))|(?=\s\({_ROLE}\)))|(?<!\w)(?P<other>[a-z]{{3,}})(?=\s\({_ROLE}\))"
)
_WITH_AGE = re.compile(
    r"^(?P<name>[A-Za-z][a-zà-ÿ]{2,}),\s(?=[1-9]\d(?:,|\s?(?:yo|y/o|yrs?|years|[mMfF])(?!\w)))"
)
_TITLE_BEHIND = re.compile(
    rf"(?:^|(?<=[.;]\s))(?P<name>{_CAP}(?:-{_CAP})?),\s(?:Mr|Mrs|Ms|Miss|Mx|Dr|Prof|Master|Sister)(?:\.?\s(?P<other>{_CAP})(?=[,;.]|\s[-–—(])|(?=\.?\s?[-–—,;(]))"
)
_OF_A_TEAM = re.compile(
    rf"(?<![\w.'’-])(?:(?P<name>{_CAP})\sand\s)?(?P<other>{_CAP})\sfrom\s(?:the\s|our\s)?(?:[a-z]+\s){{1,2}}(?:team|service|outreach|cover)(?!\w)"
)
_SUBJECT = re.compile(
    rf"(?<![\w.'’-])(?P<name>{_CAP})(?:\s(?:was|is)\s(?:(?:the|our|my)\s(?:[a-z-]+\s){{0,2}}?{_ROLE}(?:['’]s\sname)?(?!\w)"
    rf"|(?:not\s|now\s|also\s)?(?:on\scall|on\sleave|off\ssick|on\snights|on\sholiday|covering|not\son\scall|away\still|scrubbed\sin|off\stoday)(?!\w))"
    r"|\sto\s(?:see|write|review|call|chase|speak|discuss|ring|email|follow\sup|arrange|contact|dictate|scrub|talk|recheck)(?!\w)"
    r"|\s(?:seen|reviewed|clerked)\sin\s(?:clinic|ED|resus|pre-?assessment|recovery)\s(?:with|by)\s(?:his|her|their|the)(?!\w)"
    rf"|['’]s\s(?:decision|turn|idea|fault|patient|suggestion|opinion|handwriting|shift|bleep|phone|rota|registrar|secretary|wife|husband|mother|father|daughter|son)(?!\w))"
)
_OBJECT = re.compile(
    rf"(?<!\w)(?:(?:[Cc]all|[Rr]ing|[Bb]leep|[Pp]age|[Tt]ell|[Aa]sk|[Tt]ext|[Pp]hone)\s(?P<name>{_CAP})(?=\s(?:about|re|if|when|again|back|before|for\shelp|first|to)(?!\w)|[.!]?$)"
    rf"|(?:told|asked|informed|reassured|advised|warned|phoned|taught|supervised|consented|escorted|accompanied|rung|bleeped)\sby\s(?P<other>{_CAP})(?!\w))"
)
_KIN_THEN_COMMA = re.compile(
    rf"(?<!\w)(?:[Hh]er|[Hh]is|[Tt]he|[Tt]heir|[Pp]t['’]?s|[Pp]atient['’]s)\s{KIN},\s(?P<name>{_CAP})(?=,)"
)
_KIN_SMALL = re.compile(
    rf"(?<!\w){KIN}\s(?P<name>[a-z]{{3,}})(?=,?\s(?:says|said|aware|informed|rang|called|phoned|updated|present|attended|told|concerned|unhappy|happy|upset|wants|worried|reports"
    r"|visiting|at\sbedside|on\s0|\d)|,)"
)
_PAIR_SMALL = re.compile(
    r"(?<!\w)(?:with|w/|by|from|to)\s(?P<name>[a-z]{3,})\s(?:and|&|\+)\s(?P<other>[a-z]{3,})(?=\s(?:scrubbed|assisting|present|in\s|from\s|came|helped|on\s|at\s)|[,.;]|$)"
)
_GIVEN_PAIR = re.compile(
    rf"(?:^|(?<=[.!?]\s))(?P<name>(?P<own>{_CAP})\s{_CAP})\s(?:needed|slipped|fell|collapsed|vomited|bled|wanted|refused|complained|arrested|required|underwent|tripped|woke|presented|attended|returned)(?!\w)"
)
_INITIAL_SMALL = re.compile(
    r"(?<![\w'’-])(?i:pt|patient|dr|mr|mrs|ms|miss|sr|sister|nurse|by|surgeon|asst|anaes|d/w|s/b|cons|reg)\s(?P<name>(?:[a-z]\.\s?){1,2}[a-zà-ÿ]{3,}(?:-[a-zà-ÿ]+)?)(?!\w)"
)
_SISTER = re.compile(
    r"(?<!\w)(?P<name>sr\s[a-z]{3,})(?=\s(?:aware|informed|says|said|happy|reviewed|asked|updated|told|from|in\scharge|rang|coming|noted|on)(?!\w)|[,.;]|$)"
)
_DOTTED = re.compile(
    r"(?<![\w.])(?P<name>(?:[a-z]\.){2,3})(?=\s(?:consented|scrubbed|assisted|reviewed|aware|agreed|said|says|closed|opened|operated|saw|to\sreview|on\scall)(?!\w))"
)
_CUE = r"(?:called|d/w|dw|s/b|asked|told|rang|bleeped|(?:seen|rv|reviewed|done|closed|opened|scrubbed|consented|clerked|written|signed|counted|handed\sover|noted|agreed|performed|assisted)\sby|per|h/o\s(?:to|from)|o/c)"
_THEIR_WORK = rf"(?:{_ROLE}|on\scall|scrubbed|aware|says|said|agreed|reviewed|attended|to\sreview|present|assisting|coming|informed)"
_TWO_LETTERS = re.compile(
    rf"(?<![\w/])(?:{_CUE}|(?:[01]\d|2[0-3])[0-5]\d)\s(?P<name>[a-z]{{2}}|[A-Z]{{2}})(?=\s\(?{_THEIR_WORK}(?!\w))|(?<![\w/]){_CUE}\s(?P<other>[a-z]{{2}}|[A-Z]{{2}})(?=[,.;)]|$|\s(?:at|re|about|and|on)(?!\w))"
)
_INITIALS_OF = re.compile(
    r"(?<!\w)(?:film|scan|photo|photograph|image|picture|video|notes|case|care|mother|father|wife|husband|son|daughter|consent|relatives|family|x-?ray|radiograph"
    r"|specimen|letter|notes?|history|parents?|slide|angiogram|death|operation|readmission|patient)\s(?:of|for|from|re|about)\s(?P<name>(?:[A-Z]\.\s?){1,2}[A-Z]\.?)(?=[\s,;:.)]|$)"
)
_ALIAS = re.compile(
    r"(?<!\w)(?i:call(?:ed|s|ing)\s(?:him|her|them)?self|goes\sby|known\slocally\sas|nick-?named?|aka|a\.k\.a\.?|alias|likes\sto\sbe\scalled|prefers\sto\sbe\scalled|preferred\sname(?:\sis)?)"
    r"\s?:?\s?(?:[\"“‘'](?P<name>[^\"”’'\n]{2,30})[\"”’']|(?P<other>[^\W\d_]{3,}(?:\s[A-Z][^\W\d_]+)?))"
)
_REAL_NAME = re.compile(
    r"(?<!\w)(?i:(?:real|full|maiden|birth|first|last|middle|married|proper|sur)\s?(?:name|nm)(?:\sis|\swas)?)\s?:?\s(?P<name>[^\W\d_]{3,}(?:[\s-][^\W\d_]{3,}){0,2})(?=[,.;)]|$|\s(?:dob|but|and|not|on|in)(?!\w))"
)
_HINDI = re.compile(
    r"(?<!\w)(?:(?:maa|mata|papa|pita|pati|patni|beta|beti|bhai|behen|bahu|nani|dadi|chacha|mareez)\s(?P<name>[^\W\d_]{4,})(?=\s(?:ka|ki|ke|ko|ne|se|ji|hai)(?!\w))"
    r"|(?P<other>[^\W\d_]{4,})(?=\s(?:sister|sir|madam|mam|didi|bhai|bhaiya|doctor)\s(?:ne|ko|ka|ki|ke|se|bole|boli|aaye|aayi|bhi|ji)(?!\w)))"
)
_LOGGED = re.compile(
    rf"(?:^|(?<=[.;]\s))(?:[01]\d|2[0-3])[:.]?[0-5]\d\s[-–:]?\s?(?P<name>{_CAP})(?=\s(?:at\s(?:the\s)?(?:head|bedside|foot)|here|arriv|back|scrubs|scrubbed|present|in\s(?:theatre|room)|informed|aware|leaves|takes|on\sphone))"
)
_ROLE_BEHIND = re.compile(
    r"(?<![\w.'’-])(?P<name>[a-z]{4,})(?=\s(?:sho|spr|odp|hca|anp|acp|fy\d|st\d|ct\d|physio|scrub\snurse|ward\sclerk)(?!\w))"
    r"|(?<![\w'’-])by\s(?P<other>[a-z]{4,})(?=\s(?:reg|cons|registrar|consultant)(?!\w))"
)
_IN_BRACKETS = re.compile(rf"(?<![\w.'’-])(?P<name>{_CAP})(?=\s\((?i:{_ROLE}|rn|sn)\))")
_LETTERS_ACT = re.compile(
    r"(?:^|(?<=[,.;]\s))(?P<name>[a-z]{2,3})(?=\s(?:consented|scrubbed|assisted|clerked|reviewed|closed|opened|operated|to\sreview|aware)(?!\w))"
)
_CAME = re.compile(
    rf"(?<=[a-z,]\s)(?P<name>{_CAP})(?=\s(?:came|went|arrived|took\sover|was\scalled|helped|left\searly)(?!\w)(?!\s(?:out|off|back|loose|up|down|away|in|on)(?!\w)))"
)
_BLEEP = re.compile(
    r"(?<!\w)(?:bleep|page|ring|call|phone|text|contact|rebleep|chase\sw(?:ith)?)\s(?P<name>[a-z]{4,})(?=\s(?:if|re|about|when|for|to|on|with|before|at|again|back)(?!\w)|[,.;]|$)"
)
_MISS = re.compile(r"(?<!\w)(?P<name>(?:ms|miss)\s[a-z]{3,})(?!\w)")
_CALL_ME = re.compile(r"(?<!\w)[Cc]alls?\sme\s(?P<name>[A-Za-z]{3,})(?=[\"”,.;)]|$)")
_HANDED_OVER = re.compile(rf"(?<![\w.'’-])(?P<name>{_CAP})\s?(?:>|→|->)\s?(?P<other>{_CAP})(?!\w)")
_SPEAKER = re.compile(rf"(?:^|(?<=[.!?]\s)|(?<=[-–]\s))(?P<name>{_CAP})(?=:\s)")
"""Who says it, in a row of messages: `Jude: theatre 2 pls`."""
_SIGNED_OFF = re.compile(
    rf"(?<!\w)(?i:thx|thanks|thank\syou|ta|cheers|regards|rgds|bw|kr|best|best\swishes|yours|love)[,.!]?\s(?P<name>{_CAP}|[A-Z][a-z])[.!]?(?:\s?x{{1,3}})?$"
)
_ROLE_AFTER_COMMA = re.compile(
    rf"(?<![\w.'’-])(?P<name>{_CAP}(?:-{_CAP})?)(?=,\s(?:(?:the|our|my|a|an|his|her)\s)?(?:orthotist|physio(?:therapist)?|podiatrist|dietitian|optometrist|pharmacist|radiographer|chaplain|interpreter|midwife|porter"
    r"|perfusionist|anaesthetist|registrar|consultant|surgeon|solicitor|ward\sclerk|secretary|ODP|HCA|SHO|SpR|rep|paramedic|health\svisitor|social\sworker|carer|neighbour|daughter|son|wife|husband|sister|brother|mother|father)(?!\w))"
)
_SURNAME_THEN = re.compile(
    rf"(?<!\w)(?:under|for|patient|pt|label(?:led)?|notes\sof|notes\sfor|instead\sof|of|belonging\sto|named)\s(?P<name>{_CAP},\s{_CAP})(?=[\s;.)]|$)"
)
_DOTTED_CAPITALS = re.compile(r"(?<![\w.])(?P<name>(?:[A-Z]\.\s?){2,3}(?:[A-Z]\.)?)(?=[\s,;:)('’]|$)")
_BY_INITIALS = re.compile(
    r"(?<!\w)(?i:counted|checked|agreed|signed|scrubbed|seen|reviewed|witnessed|closed|opened|discussed|handed\sover|done|performed|written|dictated|assisted|consented|inserted|verified|countersigned)\s(?:by|with|to)\s"
    r"(?P<name>[A-Z]{2,3})(?:\s(?:and|&|/|\+)\s(?P<other>[A-Z]{2,3}))?(?=[\s,.;:)]|$)(?!\s(?:scan|team|nurse|clinic|result|score|list|angio\w*|guidance|needle|probe|machine))"
)
_INITIALS_GRADE = re.compile(
    r"(?:^|(?<=[.!?]\s)|(?<=[-–—]\s))(?P<name>[A-Z]{2,3})(?=,?\s(?:CT|ST|FY|F)\d(?!\w))"
)
_HIS_INITIALS = re.compile(
    rf"(?P<before>{_CAP}(?:\s{_CAP})?\s[A-Z]|[A-Z]\.?\s{_CAP}|{_CAP}\s{_CAP})\s\((?P<name>[A-Z]{{2,3}})\)"
)
_NUMBERED_OFFICER = re.compile(
    rf"(?<!\w)(?:PC|WPC|PS|DC|DS|Sgt|Officer|Constable|CO|SO)\s(?:[A-Z]{{0,2}}\d{{2,5}}[A-Z]{{0,2}}\s)?(?P<name>{_CAP}(?:-{_CAP})?)(?!\w)"
)
_MESSAGE = re.compile(
    rf"(?:^|(?<=\]\s)|(?<=[.!?]\s)|(?<=[-–]\s)|(?<=\n))(?:\[\d\d[:.]\d\d\]\s|\d\d[:.]\d\d\s)?(?P<name>{_CAP})(?=:\s[a-z])"
)
_STRANGE = re.compile(
    r"[^\W\d_A-Z]*[^\x00-\x7fà-öø-ÿœæ°µµßı‘’“”×–—][^\W\d_A-Z]*(?:\s[^\W\d_A-Z]{2,}(?=\s|,|$)){0,3}"
)
"""A word in small letters with a letter that no English, German, French, Spanish or Italian word has."""
_ENGLISH = re.compile(r"(?<!\w)(?:the|with|and|by|for|on|at|done|then|by|in|of|is|was|to|no)(?!\w)")

NO_INITIALS = {word.lower() for word in ABBREVIATIONS} | word_set(
    """
    me us it in on at to up ok pt dr mr gp ed ct ep he we no so do is as an or if my by of cc hb bp hr iv im po pr og ng td bd od am pm
    bm sw ot pt ir er ae mh sx rx tx hx fx dx px cx ix mx ca na mg kg ml mm cm lt rt re fh sh pm ms go be oh hi ha ah de la le du di
    mi pe vf vt af lv rv la ra sa gi gu id ht wt ac vs eg ie ex st nd rd th tv wc sr sn fu gf bf dv vc bo bs nm ea lo wd wk yr hv
    """
)
"""Pairs of letters after `d/w` or `by` that are a place, a service or a word."""


def hurried(text: str, lists: Lists) -> Iterator[tuple[int, int, str]]:
    """Yield start, end and reason of each name in one sentence, each once."""
    yield from dict.fromkeys(_hurried(text, lists))


def _hurried(text: str, lists: Lists) -> Iterator[tuple[int, int, str]]:
    for pattern, fits, needed in _WHO:
        if needed and not any(letters in text for letters in needed):
            continue
        for found in pattern.finditer(text):
            for group in ("name", "other"):
                said = found.groupdict().get(group)
                if said and fits(said, lists):
                    yield *found.span(group), _REASON
    for found in _GIVEN_PAIR.finditer(text):
        from mmbuilder.scrub.keep.words import fold

        own = fold(found["own"])
        if own in lists.given and own in lists.word_names:
            yield *found.span("name"), _REASON
    for found in _HIS_INITIALS.finditer(text) if "(" in text else ():
        # Mistry K (KM): the letters are those that the words before them begin with
        initials = {word[0] for word in re.findall(r"[^\W\d_]+", found["before"])}
        if set(found["name"]) <= initials:
            yield *found.span("name"), _REASON
    yield from _strange(text, lists)


_REASON = "a word in the place of a person"


def _somebody(word: str, lists: Lists) -> bool:
    """Whether a word is an eponym, a name or on no list, and no role, title or clinical thing."""
    from mmbuilder.scrub.acting import unlisted
    from mmbuilder.scrub.keep.words import fold

    plain = fold(word)
    if (
        plain in lists.titles
        or plain in lists.roles
        or (plain in lists.heads and plain not in lists.word_names)
    ):
        return False
    if plain in lists.word_names or plain in lists.eponym_words:
        return plain not in lists.months or plain in ("may", "june", "april", "august")
    return unlisted(word, lists) or (
        plain in lists.given and lists.called(plain) in (None, "an ordinary word")
    )


def _given(word: str, lists: Lists) -> bool:
    """Whether a word is a given name and no clinical word or label."""
    from mmbuilder.scrub.keep.words import fold

    plain = fold(word)
    if plain not in lists.given or plain in lists.titles or plain in lists.roles or plain in lists.months:
        return False
    return plain in lists.word_names or lists.called(plain) is None


def _a_name(word: str, lists: Lists) -> bool:
    """Whether a word in small letters is a name or on no list: not one of the language that is a name by chance."""
    from mmbuilder.scrub.acting import unlisted
    from mmbuilder.scrub.keep.words import fold

    plain = fold(word)
    if plain in lists.verbs_after or plain in lists.titles or plain in lists.roles:
        return False
    if plain in lists.given | lists.family and not lists.plain_word(plain) and lists.called(plain) is None:
        return True
    return unlisted(word, lists)


def _no_thing(word: str, lists: Lists) -> bool:
    """Whether a word is a name and no eponym: `call bell`."""
    from mmbuilder.scrub.keep.words import fold

    return _a_name(word, lists) and fold(word) not in lists.eponym_words


def _kin_named(word: str, lists: Lists) -> bool:
    from mmbuilder.scrub.keep.words import fold

    plain = fold(word)
    if (
        plain in lists.verbs_after
        or plain in lists.roles
        or plain in lists.titles
        or plain in lists.auxiliaries
    ):
        return False
    return plain in lists.word_names or plain in lists.given or _a_name(word, lists)


def _a_sister(word: str, lists: Lists) -> bool:
    return _kin_named(word.removeprefix("sr "), lists) or _somebody(word.removeprefix("sr "), lists)


def _initials(word: str, lists: Lists) -> bool:
    return word.lower().replace(".", "").replace(" ", "") not in NO_INITIALS


def _unknown_letters(word: str, lists: Lists) -> bool:
    known = (
        lists.called(word) not in (None, "a unit")
        or lists.plain_word(word)
        or word in lists.roles
        or word in lists.titles
        or word in lists.particles
    )
    return not known and _initials(word, lists)


def _word_name(word: str, lists: Lists) -> bool:
    """Whether a word is a name and no eponym, month or clinical word."""
    from mmbuilder.scrub.keep.words import fold

    plain = fold(word)
    if plain not in lists.word_names or plain in lists.months:
        return False
    return lists.called(plain) in (None, "an ordinary word") or plain in lists.given


def _miss(word: str, lists: Lists) -> bool:
    return _a_name(word.split(" ")[1], lists)


def _signer(word: str, lists: Lists) -> bool:
    """Whether a word closes a message as a name: a given name, or one on no list."""
    from mmbuilder.scrub.keep.words import fold

    return len(word) < 3 or fold(word) in lists.given or _somebody(word, lists)


def _listed_pair(word: str, lists: Lists) -> bool:
    """Whether surname and forename stand so, and no two eponyms: `Ahmed, Nur`."""
    from mmbuilder.scrub.keep.words import fold

    last, first = (fold(piece) for piece in word.split(", "))
    if first in lists.eponym_words or lists.known(first) or lists.known(last):
        return False
    return _somebody(word.split(", ")[0], lists) and _somebody(word.split(", ")[1], lists)


def _letters_of_somebody(word: str, lists: Lists) -> bool:
    """Whether two or three capitals are nobody's department and no abbreviation."""
    from mmbuilder.scrub.detectors.homely_place import known_letters

    if word in ABBREVIATIONS or word.lower() in NO_INITIALS:
        return False
    return len(word) == 2 or not known_letters(word)


def _unknown_or_given(word: str, lists: Lists) -> bool:
    """Whether who says something is a name: given, or on no list and made like one."""
    from mmbuilder.scrub.acting import unlisted
    from mmbuilder.scrub.keep.likeness import like_a_name
    from mmbuilder.scrub.keep.words import fold

    plain = fold(word)
    return _given(word, lists) or (unlisted(word, lists) and like_a_name(plain))


def _dotted(word: str, lists: Lists) -> bool:
    return word.replace(".", "") not in _ON_CHARTS


_ON_CHARTS = frozenset({"am", "pm", "iv", "im", "po", "pr", "sc", "od", "bd", "eg", "ie", "prn", "nbm"})


def _any(word: str, lists: Lists) -> bool:
    return bool(word)


def _always(word: str, lists: Lists) -> bool:
    from mmbuilder.scrub.keep.words import fold

    last = re.split(r"[\s-]", word)[-1]
    return fold(last) not in lists.roles and fold(last) not in lists.titles


_WHO: tuple[tuple[re.Pattern[str], Callable[[str, Lists], bool], tuple[str, ...]], ...] = (
    (_OPENS_SMALL, _somebody, ()),
    (_WITH_AGE, _somebody, (", ",)),
    (_TITLE_BEHIND, _somebody, (", M", ", D", ", P", ", S")),
    (_OF_A_TEAM, _somebody, (" from ",)),
    (_SUBJECT, _somebody, (" is ", " was ", "'s ", "’s ", " in ", " to ")),
    (_OBJECT, _somebody, ()),
    (_LOGGED, _somebody, ()),
    (_KIN_THEN_COMMA, _always, (", ",)),
    (_KIN_SMALL, _kin_named, ()),
    (_PAIR_SMALL, _a_name, (" and ", " & ", " + ")),
    (_INITIAL_SMALL, _always, (".",)),
    (_SISTER, _a_sister, ("sr ",)),
    (_DOTTED, _dotted, (".",)),
    (_TWO_LETTERS, _initials, ()),
    (_INITIALS_OF, _initials, (".",)),
    (_ALIAS, _any, ("self", "ick", "aka", "a.k.a", "lias", "oes by", "called", "name", "locally")),
    (_REAL_NAME, _always, ("ame ", "ame:", "nm ", "nm:")),
    (
        _HINDI,
        _a_name,
        (
            " ka ",
            " ki ",
            " ke ",
            " ko ",
            " ne ",
            " se ",
            " ji",
            " hai",
            " bole",
            " boli",
            " aaye",
            " aayi",
            " bhi",
        ),
    ),
    (_SPEAKER, _given, (": ",)),
    (_ROLE_BEHIND, _a_name, ()),
    (_IN_BRACKETS, _somebody, ("(",)),
    (_LETTERS_ACT, _unknown_letters, ()),
    (_CAME, _word_name, (" came", " went", " arrived", " took", " called", " helped", " left")),
    (_BLEEP, _no_thing, ()),
    (_MISS, _miss, ("ms ", "miss ")),
    (_CALL_ME, _a_name, ("all me ", "alls me ")),
    (_HANDED_OVER, _somebody, (">", "→")),
    (_SIGNED_OFF, _signer, ()),
    (_ROLE_AFTER_COMMA, _somebody, (", ",)),
    (_SURNAME_THEN, _listed_pair, (", ",)),
    (_DOTTED_CAPITALS, _initials, (".",)),
    (_BY_INITIALS, _letters_of_somebody, (" by ", " with ", " to ")),
    (_INITIALS_GRADE, _letters_of_somebody, ("CT", "ST", "FY", "F1", "F2")),
    (_NUMBERED_OFFICER, _somebody, ("PC", "PS", "DC", "DS", "Sgt", "Officer", "Constable", "CO ", "SO ")),
    (_MESSAGE, _unknown_or_given, (": ",)),
)
"""Each pattern, what a word must be, and letters of which one must stand in the sentence: most patterns are never run."""


def _strange(text: str, lists: Lists) -> Iterator[tuple[int, int, str]]:
    """A name in small letters that are not English ones, in an English note, with the words on no list behind it."""
    if text.isascii() or not (_ENGLISH.search(text) or _by_its_words(text, lists)):
        return
    from mmbuilder.scrub.acting import unlisted

    for found in _STRANGE.finditer(text):
        if found.start() and text[found.start() - 1].isalnum():
            continue
        end = found.start()
        for word in re.finditer(r"[^\W\d_]+", found[0]):
            if not unlisted(word[0], lists) and not _STRANGE.match(word[0]):
                break
            end = found.start() + word.end()
        if end > found.start() + 2:
            yield found.start(), end, _REASON


def _by_its_words(text: str, lists: Lists) -> bool:
    """Whether most words of three letters or more are on our lists, which are English."""
    from mmbuilder.scrub.keep.words import fold

    words = [fold(word) for word in re.findall(r"[^\W\d_]{3,}", text) if word.isascii()]
    ours = [
        lists.known(word) or word in lists.eponym_words or word.upper() in ABBREVIATIONS for word in words
    ]
    return sum(ours) * 2 >= len(ours) > 0
