"""`mmbuilder compute` shows a figure with its formula, source and caution, and refuses what has no unit."""

from __future__ import annotations

from click.testing import CliRunner

from mmbuilder.cli.commands.compute import command


def run(*arguments: str):
    return CliRunner().invoke(command, arguments, standalone_mode=True)


def test_a_figure_with_all_that_belongs_to_it():
    told = run("shock index", "heart rate=120", "systolic=90 mmHg", "--working").output
    assert told.startswith("1.33\n")
    for word in ("formula", "source", "120 ÷ 90 = 1.33", "not for treatment"):
        assert word in told


def test_what_sources_dispute_is_shown_by_each():
    told = run("visual acuity", "acuity=HM").output
    assert "2.3" in told
    assert "3.0" in told
    assert "do not agree" in told


def test_a_figure_without_unit_is_asked_about():
    told = run("urine output", "urine=45", "weight=82 kg", "over=3 h")
    assert told.exit_code == 2
    assert "a unit is never guessed" in told.output


def test_names_and_needs_are_listed():
    assert "mean arterial pressure" in run().output
    assert "systolic" in run("shock index").output
    assert run("no such figure").exit_code == 2


def test_one_input_given_twice_is_a_list():
    told = run("fluid balance", "in=1 L", "in=500 mL", "out=1.2 L").output
    assert told.startswith("+300 mL")


def test_a_figure_that_cannot_be_is_told_in_words_and_never_crashes():
    for inputs in (["happened=1", "out of=inf"], ["happened=5", "out of=3"]):
        told = run("rate", *inputs)
        assert told.exit_code == 2
        assert "found" in told.output
        assert "Traceback" not in told.output
    assert run("visual acuity", "acuity=6/0").exit_code == 2


def test_the_scale_of_a_unit_counts():
    # 1.9 mg/dL is 168 µmol/L (common practice, molar mass 113.12 g/mol)
    assert run("conversion", "of=creatinine", "value=19 mg/L").output.startswith("168 µmol/L\n")
    assert run("conversion", "of=creatinine", "value=1.9-2.1 mg/dL", "--working").output.startswith(
        "168 to 186 µmol/L"
    )


def test_a_bare_acuity_is_shown_as_both_and_how_to_settle_it():
    told = run("visual acuity", "acuity=0.3").output
    assert "logMAR if 0.3 is a decimal: 0.52" in told
    assert "logMAR if 0.3 is logMAR: 0.30" in told
    assert "Write decimal or logMAR" in told


def test_the_working_tells_a_notation_as_it_was_understood():
    told = run("strength", "strength=1 in 1,000", "volume=4 mL", "--working").output
    assert "strength 1 mg/mL, volume 4 mL" in told
