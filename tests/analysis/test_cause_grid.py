from __future__ import annotations

from dataclasses import replace

from mmbuilder.analysis import CauseGrid, cause_grid
from mmbuilder.safe.case import Factor
from mmbuilder.safe.terms import FactorRole, FactorRow, Likelihood
from tests.figures.samples import Story, safe

R, F = FactorRole, FactorRow


def factor(row: FactorRow, role: FactorRole, what: str, *evidence: str, **more: object) -> Factor:
    return Factor(row, role, safe(what), tuple(map(safe, evidence)), **more)  # type: ignore[arg-type]


def grid(*factors: Factor) -> CauseGrid:
    return cause_grid(Story().case("start", factors=factors))


def test_rows_are_the_seven_of_the_framework_and_may_be_empty() -> None:
    # Source: Vincent 1998, BMJ 316:1154, seven factor types from the patient outwards.
    made = grid(factor(F.TEAM, R.CONTRIBUTORY, "handover by telephone", "log"))
    assert [row.row.value for row in made.rows] == [
        "patient", "task", "individual", "team", "work environment", "organisation", "institution",
    ]  # fmt: skip
    assert [row.count for row in made.rows] == [0, 0, 0, 1, 0, 0, 0]


def test_a_factor_without_evidence_is_listed_and_never_counted_or_strongest() -> None:
    made = grid(factor(F.TASK, R.ROOT, "no protocol"))
    assert len(made.rows[1].factors) == 1
    assert made.rows[1].count == 0
    assert made.strongest(6) == ()


def test_the_strongest_are_root_then_changing_then_with_action() -> None:
    weak = factor(F.PATIENT, R.CONTRIBUTORY, "weak", "note", changed=Likelihood.UNLIKELY)
    acted = factor(F.TASK, R.CONTRIBUTORY, "acted", "note", changed=Likelihood.PROBABLY, actions=(1,))
    idle = factor(F.TASK, R.CONTRIBUTORY, "idle", "note", changed=Likelihood.PROBABLY)
    root = factor(F.TEAM, R.ROOT, "root", "note")
    made = grid(weak, idle, acted, root)
    assert made.strongest(1) == (root,)
    assert made.strongest(2) == (acted, root)
    assert made.strongest(3) == (acted, idle, root)


def test_the_cause_that_the_message_rests_on_is_always_among_the_strongest() -> None:
    """Common practice, no source: a room that is told a message is shown its cause."""
    strong = [factor(F.TASK, R.ROOT, f"root {word}", "note") for word in ("one", "two", "three", "four")]
    rests = factor(F.INDIVIDUAL, R.CONTRIBUTORY, "Stapler fired across clips, jaw not checked", "note")
    other = factor(F.TEAM, R.CONTRIBUTORY, "A question of the camera holder stayed unanswered", "note")
    case = Story().case("start", factors=(*strong, other, rests))

    def made(message: str) -> CauseGrid:
        return cause_grid(replace(case, take_away=safe(message)))

    chosen = made("Look at the jaws before the stapler is fired, and never across a clip").strongest(4)
    assert rests in chosen
    assert sum(one in strong for one in chosen) == 3
    assert made("Drink enough water").strongest(4) == tuple(strong)
    assert made("The jaw of the camera").strongest(4) == tuple(strong)  # one word of either: it tells nothing


def test_excluded_and_incidental_stand_apart() -> None:
    out = factor(F.TASK, R.EXCLUDED, "device fault", "bench test")
    aside = factor(F.PATIENT, R.INCIDENTAL, "allergy", "record")
    made = grid(out, aside)
    assert (made.excluded, made.incidental) == ((out,), (aside,))
    assert made.strongest(6) == ()
