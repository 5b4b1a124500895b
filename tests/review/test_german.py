"""The lists in German: what judges is found, what is ordinary usage of a German ward is left alone.

Which English words have a German one beside them: practice.md (c) 8 and 9, READ there. The German words
and all sentences are ours, invented; ordinary clinical usage is common knowledge, no source.
"""

from __future__ import annotations

import pytest

from mmbuilder.review import blame, causal, hindsight, lint, strength
from mmbuilder.review.causal import Kind
from mmbuilder.review.counted import counted
from mmbuilder.review.ticking import Row, signs

BLAMING = (
    ("nachlässig", "Die Tupferzählung erfolgte nachlässig"),
    ("fahrlässig", "Grob fahrlässiges Vorgehen in der Nacht"),
    ("fahrlässig", "Es war ein klarer Kunstfehler"),
    ("unfähig", "Der Vertreter war mit dem Stapler unfähig"),
    ("schlampig", "Schlampige Dokumentation auf der Station"),
    ("dumm", "Ein dummer Fehlgriff an der Pumpe"),
    ("faul", "Der Dienst war zu faul, um zu kommen"),
    ("leichtsinnig", "Er präparierte leichtsinnig weiter"),
    ("schuld", "Der Assistent war schuld"),
    ("schuld", "Das war ein Fehler des Operateurs"),
    ("Schuldzuweisung", "Der Schwester wurde die Zählung vorgeworfen"),
    ("schuldig", "Die Assistentin ist schuldig"),
    ("Übeltäter", "Der Übeltäter war der neue Assistent"),
    ("versäumte", "Der Assistenzarzt versäumte es, den Oberarzt zu rufen"),
    ("versäumte", "Die Kontrolle wurde unterlassen"),
    ("vernachlässigt", "Die Überwachung wurde ab 2 Uhr vernachlässigt"),
    ("ignoriert", "Der Hinweis der Pflege wurde ignoriert"),
    ("vergaß", "Sie vergaß die zweite Gabe"),
    ("weigerte sich", "Der Patient weigerte sich aufzustehen"),
    ("schlechte Technik", "Grobe Technik an der Anastomose"),
    ("Fehlentscheidung", "Eine Fehlentscheidung um 3 Uhr"),
    ("unzureichend", "Mangelnde Kenntnisse an der neuen Pumpe"),
    ("unzureichend", "Die Übergabe war unzureichend"),
    ("Verstoß", "Ein Verstoß gegen die Vier-Augen-Regel"),
    ("widersetzte sich", "Er widersetzte sich dem Plan"),
    ("menschliches Versagen", "Ursache war menschliches Versagen"),
    ("unaufmerksam", "Der Assistent war unaufmerksam"),
    ("unaufmerksam", "Künftig besser aufpassen"),
    ("selbstgefällig", "Das Team war selbstgefällig geworden"),
    ("unkooperativ", "Die Patientin war unkooperativ"),
    ("schwieriger Patient", "Ein schwieriger Patient mit vielen Fragen"),
    ("meine Schuld", "Meine Schuld, ich war müde"),
)
JUDGING = (
    ("hätte müssen", "Man hätte den Oberarzt früher rufen müssen"),
    ("hätte müssen", "Die Blutung hätte gesehen werden müssen"),
    ("hätte können", "Er hätte auch konvertieren können"),
    ("wäre gewesen", "Mit Drainage wäre das verhindert worden"),
    ("offensichtlich", "Offensichtlich lag eine Leckage vor"),
    ("eindeutig", "Das CT war eindeutig"),
    ("selbstverständlich", "Natürlich war da schon Luft im Bauch"),
    ("rückblickend", "Rückblickend war die Tachykardie das Zeichen"),
    ("im Nachhinein", "Im Nachhinein war es die Naht"),
    ("einfach nur", "Es fehlte einfach nur ein Anruf"),
    ("musste nur", "Er musste nur den Hahn öffnen"),
    ("leicht vermeidbar", "Das war leicht vermeidbar"),
    ("zwangsläufig", "Das führte zwangsläufig zur Blutung"),
    ("unvermeidbar", "Die Verletzung war unvermeidbar"),
    ("übersehen", "Die freie Luft wurde übersehen"),
    ("entgangen", "Die Veränderung war dem Team entgangen"),
    ("verzögert", "Die Diagnose wurde verzögert gestellt"),
    ("zu spät", "Der Oberarzt wurde zu spät gerufen"),
    ("Warnzeichen", "Es gab genug Warnzeichen"),
    ("wie im Lehrbuch", "Ein Verlauf wie aus dem Lehrbuch"),
    ("klassisch", "Ein klassisches Bild der Leckage"),
    ("jeder gute", "Jeder erfahrene Chirurg sieht das"),
    ("jeder hätte", "Jeder hätte konvertiert"),
    ("zu langsam", "Das Team war zu langsam"),
    ("vorschnell", "Der Draht wurde vorschnell entfernt"),
    ("zum Glück", "Zum Glück kam die Oberärztin vorbei"),
)
CLEAN = (
    "Die Klappe war inkompetent",
    "Die Patientin war unfähig zu schlucken",
    "Fauler Geruch aus der Drainage",
    "Die Pumpe war schuld",
    "Niemand hat Schuld",
    "Besprechung ohne Schuldzuweisungen",
    "Der Patient ist arbeitsunfähig",
    "Artefakte wurden ignoriert",
    "Versäumte Termine wurden nachgeholt",
    "Die Assistentin wurde eingearbeitet und hat 40 Eingriffe gesehen",
    "Delir mit unaufmerksamem Verhalten im CAM-Test",
    "Schlechte Compliance der Lunge",
    "Die Fahrt verlief ohne Verzögerung",
    "Verzögerte Magenentleerung am Tag 3",
    "Verzögerte Wundheilung",
    "Die Extubation wurde bewusst verzögert",
    "Der Anruf kam verzögert, 12 Minuten nach dem ersten Zeichen",
    "Um eine halbe Stunde verspätet",
    "Die Proben waren eindeutig beschriftet",
    "Nicht eindeutig zu beurteilen",
    "Klassischer Zugang über die Mittellinie",
    "Natürlich geboren in der 39. Woche",
    "Verpasste Dosis am Morgen nachgeholt",
    "Warnzeichen wurden verneint",
    "Zu früh geborenes Kind",
    "Die Infusion lief zu langsam",
    "Das Bad wurde nach der Waschung gereinigt",
    "Spät am Abend verlegt",
    "Retrospektiv ausgewertet wurden 40 Fälle",
    "Anlage nach der Weigert-Meyer-Regel",
    "Sie hätte am Tag 3 entlassen werden sollen",
    "Die Blutung hätte aus der Milz kommen können",
)
QUOTED = ("Er sagte „das war fahrlässig“", "Im Brief steht »das wurde übersehen«")


def _words(text: str) -> list[str]:
    return [flag.word for flag in (*blame.find(text), *hindsight.find(text))]


@pytest.mark.parametrize(("word", "sentence"), BLAMING)
def test_blame_is_found(word: str, sentence: str) -> None:
    assert word in [flag.word for flag in blame.find(sentence)]


@pytest.mark.parametrize(("word", "sentence"), JUDGING)
def test_hindsight_is_found(word: str, sentence: str) -> None:
    assert word in [flag.word for flag in hindsight.find(sentence)]


@pytest.mark.parametrize("sentence", CLEAN)
def test_ordinary_usage_is_left_alone(sentence: str) -> None:
    assert _words(sentence) == []


@pytest.mark.parametrize("sentence", QUOTED)
def test_german_marks_quote_too(sentence: str) -> None:
    assert _words(sentence) == []
    assert _words(sentence.strip("“«").replace("„", "").replace("»", ""))


@pytest.mark.parametrize(("name", "told"), [("blame", BLAMING), ("hindsight", JUDGING)])
def test_every_english_word_of_blame_and_most_of_hindsight_have_one(
    name: str, told: tuple[tuple[str, str], ...]
) -> None:
    entries = lint.load(name).words
    german = {entry.word for entry in entries} & {word for word, _ in told}
    assert german == {word for word, _ in told}
    whys = {entry.why for entry in entries if entry.word in german}
    english = [entry for entry in entries if entry.word not in german]
    lacking = {entry.word for entry in english if entry.why not in whys}
    assert lacking == (set() if name == "blame" else {"ought to"})  # German has no word apart for it


def test_what_if_not_is_answered_with_its_own_words() -> None:
    text = "Mit freier Haut wäre die Rötung früher gesehen worden, offensichtlich"
    assert [flag.word for flag in hindsight.find(text)] == ["wäre gewesen", "offensichtlich"]
    assert [flag.word for flag in hindsight.find(text, counterfactual=True)] == ["offensichtlich"]


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("Die Blutgasanalyse wurde um 10:30 nicht abgenommen", Kind.FAILURE_TO_ACT),
        ("Niemand rief den Oberarzt", Kind.FAILURE_TO_ACT),
        ("Niemand hat den Oberarzt gerufen", Kind.FAILURE_TO_ACT),
        ("Es wurde keine zweite Zählung durchgeführt", Kind.FAILURE_TO_ACT),
        ("Die Kontrolle unterblieb", Kind.FAILURE_TO_ACT),
        ("Die Checkliste wurde übersprungen", Kind.DEPARTURE),
        ("Die Sepsisleitlinie wurde auf der Station nicht befolgt", Kind.DEPARTURE),
        ("Von der Leitlinie wurde abgewichen", Kind.DEPARTURE),
        ("Die falsche Spritze wurde genommen", Kind.HUMAN_ACT),
        ("Der Assistent griff die falsche Ampulle", Kind.HUMAN_ACT),
        ("Die Dosis wurde verwechselt", Kind.HUMAN_ACT),
        ("Zwei gleiche Anschlüsse nebeneinander", None),
        ("Keine vereinbarten Worte für den Stopp", None),
        ("Assistent in der zweiten Woche", None),
        ("Die Drainage lag nicht ein", None),
        ("CT nachts nicht verfügbar", None),
        ("Das Antibiotikum war verschrieben", None),
        ("Die Liste lag im Nachbarsaal", None),
    ],
)
def test_the_kind_a_cause_reads_as(text: str, kind: Kind | None) -> None:
    """READ S57: rules 3, 4 and 5 are of acts, departures and things not done; the ways to say them are ours."""
    assert causal.seems(text) is kind


@pytest.mark.parametrize(
    "text",
    [
        "Drei Alarme zugleich führten dazu, dass der Druckalarm nicht gehört wurde",
        "Der Bogen lag im Nachbarsaal, sodass die zweite Zählung entfiel",
        "Gleiche Spritzen lagen nebeneinander, was eine zehnfache Dosis wahrscheinlicher machte",
        "Weil das Gerät gewartet wurde, fehlte die Blutgasanalyse",
    ],
)
def test_rule_1_reads_german_links(text: str) -> None:
    assert causal.check(text, Kind.CONDITION, preceding=False, duty=False) == ()


@pytest.mark.parametrize(
    ("text", "rules"),
    [
        ("Zwei gleiche Anschlüsse", [1]),
        ("Die schlechte Übergabe führte zu einer späten Kontrolle", [2]),
        ("Die falsche Dosis führte zu einer Hypotonie", []),  # which dose, and not a verdict
        ("Schlechte Durchblutung führte zu einer Nekrose", []),
        ("Fehlende Pulse führten zu einer Doppler-Untersuchung", []),
        ("Das fehlende Tuch führte zu einer zweiten Zählung", []),
        ("Fehlende Aufsicht führte zu einer zweiten Zählung", [2]),
        ("Mangelnde Absprache führte zu zwei Bestellungen", [2]),
    ],
)
def test_rules_1_and_2_in_german(text: str, rules: list[int]) -> None:
    found = causal.check(text, Kind.CONDITION, preceding=False, duty=False)
    assert [breach.rule for breach in found] == rules


@pytest.mark.parametrize(
    ("wanted", "text"),
    [
        ("stronger", "Konnektoren, die nur an den richtigen Anschluss passen"),
        ("stronger", "Verriegelung am Gasanschluss"),
        ("stronger", "Standardisierte Siebe in allen Sälen"),
        ("stronger", "Die doppelte Übertragung entfällt"),
        ("intermediate", "Zusätzliche Pflegekraft in der Nacht"),
        ("intermediate", "Checkliste am Narkosegerät"),
        ("intermediate", "Pflichtfeld für das Gewicht"),
        ("intermediate", "Ersatzbeutel griffbereit im Saal"),
        ("intermediate", "Jährliches Simulationstraining"),
        ("intermediate", "Strukturierter Übergabebogen"),
        ("weaker", "Einmaliges Simulationstraining"),
        ("weaker", "Rundmail an alle"),
        ("weaker", "Schulung über die neue Checkliste"),
        ("weaker", "Neue Verfahrensanweisung"),
        ("weaker", "Vier-Augen-Prinzip am Medikamentenschrank"),
        ("weaker", "Aufkleber auf der Pumpe"),
        ("weaker", "Team noch einmal sensibilisieren"),
        ("weaker", "Audit im nächsten Jahr"),
        (None, "Haut mit Klammern verschlossen"),
        (None, "Sperriger Wagen im Flur"),
    ],
)
def test_the_strength_of_an_action(wanted: str | None, text: str) -> None:
    """Categories READ, check-values.md C2 [S147]; the German words for them are ours."""
    said = strength.implied(text)
    assert (said and said.strength) == wanted


def test_a_mail_that_is_called_stronger_is_challenged() -> None:
    said = strength.challenge("stronger", "Rundmail an alle Mitarbeitenden")
    assert said is not None
    assert "a poster, mail or reminder" in said


@pytest.mark.parametrize(
    ("what", "name"),
    [
        ("Kommunikation", "communication"),
        ("Mangelnde Kommunikation im Team", "communication"),
        ("Kommunikationsproblem", "communication"),
        ("Menschliche Faktoren", "human factors"),
    ],
)
def test_a_bare_word_in_the_grid(what: str, name: str) -> None:
    (said,) = signs((Row("team", what, True),), (), went_well=1)
    assert f"'{name}'" in said


def test_a_word_with_its_fact_and_a_measure_that_can_be_counted() -> None:
    assert signs((Row("team", "Kommunikation der Drainage nur telefonisch", True),), (), went_well=1) == ()
    assert counted("jede Liste mit zweitem Beutel")
    assert not counted("mehr Aufmerksamkeit")
