"""A name found once is found everywhere; one person has one stand-in."""

from __future__ import annotations

from mmbuilder.case.identifiers import Declared
from mmbuilder.scrub.declared import Index
from mmbuilder.scrub.findings import replaced
from mmbuilder.scrub.memory import DocumentMemory, bare
from mmbuilder.scrub.plan import Decision, Layer, Span
from mmbuilder.scrub.propose import in_texts

NOTHING = Index(Declared())


def scrubbed(*texts: str) -> list[str]:
    found = in_texts(texts, NOTHING)
    return [replaced(text, spans) for text, spans in zip(texts, found, strict=True)]


def again(first: str, name: str, text: str) -> list[str]:
    at = first.index(name)
    known = [Span(at, at + len(name), "titled name", "A", "[name]", 0.9)]
    spans = DocumentMemory().find([first, text], [known, ()])[1]
    assert all(span.layer is Layer.MEMORY and span.decision is Decision.REPLACE for span in spans)
    return [text[span.start : span.end] for span in spans]


def test_a_titled_name_is_found_in_pieces_elsewhere() -> None:
    first = "Dr Anka Velkonar-Brusk came."
    name = "Dr Anka Velkonar-Brusk"
    assert again(first, name, "the velkonar list") == ["velkonar"]
    assert again(first, name, "Brusk's note; file anka_velkonar_1.png") == ["Brusk", "anka_velkonar"]
    assert again(first, name, "ANKA V-B., A. Velkonar-Brusk") != []


def test_eponyms_and_words_are_left_alone() -> None:
    assert again("Dr Fuchs came.", "Dr Fuchs", "Fuchs dystrophy in both eyes") == []
    assert again("Dr Weber came.", "Dr Weber", "a Weber B fracture") == []
    assert again("Dr Long came.", "Dr Long", "a long incision") == []
    assert again("Dr May came.", "Dr May", "it may bleed") == []


def test_a_kept_finding_is_not_remembered() -> None:
    kept = Span(0, 5, "name", "A", "[name]", 0.9, Layer.MODEL, None, Decision.KEEP, "an eponym")
    assert list(DocumentMemory().find(["Foley catheter", "Foley"], [[kept], ()])) == [(), ()]


def test_initials_on_duty_are_found_where_they_act() -> None:
    first, at = "handover JQ -> PS", 15
    known = [
        Span(9, 11, "initials", "A", "[name]", 0.86),
        Span(at, at + 2, "initials", "A", "[name]", 0.86),
    ]
    text = "JQ home. PS to chase, ASA 3, PS 1, d/w PS"
    spans = DocumentMemory().find([first, text], [known, ()])[1]
    assert [(text[span.start : span.end], span.start) for span in spans] == [("JQ", 0), ("PS", 9), ("PS", 39)]


def test_one_person_has_one_stand_in() -> None:
    out = scrubbed("Dr Anka Velkonar called.", "Then Velkonar left, and Dr Quorrin came.", "Quorrin's note")
    assert out == ["Doctor A called.", "Then doctor A left, and doctor B came.", "Doctor B's note"]


def test_titles_and_roles_are_no_part_of_a_remembered_name() -> None:
    assert bare("Dr. A. Velkonar's") == "A. Velkonar"
    assert bare("Staff Nurse Oskavarn") == "Oskavarn"
    assert bare("J.K.") == ""


def test_scrubbing_twice_changes_nothing() -> None:
    text = "Dr Anka Velkonar and scrub nurse Mirelle met Velkonar's patient on 14 March 2026, MRN 00482913."
    (once,) = scrubbed(text)
    assert once != text
    assert scrubbed(once) == [once]


def test_who_bears_an_eponym_is_known_by_how_they_are() -> None:
    texts = ["Mr Douglas had glycine. Douglas confused, fluid in the pouch of Douglas."]
    (spans,) = in_texts(texts, Index(Declared()))
    assert [texts[0][span.start : span.end] for span in spans] == ["Mr Douglas", "Douglas"]
    assert spans[1].start < texts[0].index("confused")
