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
    assert told.startswith("300 mL")
