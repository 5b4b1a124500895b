"""`mmbuilder template`: whether a department's own .pptx will do, and which layout serves what."""

from __future__ import annotations

from pathlib import Path

import click

from mmbuilder.errors import ExitCode


@click.command("template")
@click.argument("file", type=click.Path(path_type=Path, dir_okay=False, exists=True))
@click.option("--opening", default="", help="Name of the layout to open with.")
@click.option("--telling", default="", help="Name of the layout to tell on.")
@click.option(
    "--out", type=click.Path(path_type=Path, file_okay=False), default=Path("out"), show_default=True
)
def command(file: Path, opening: str, telling: str, out: Path) -> int:
    """Look at a template: its layouts, what each lacks, which ones will be used.

    A contact sheet and a sample deck of the bundled case are written, to be looked at before a meeting.
    """
    from mmbuilder import resources
    from mmbuilder.cli.writing import write_new
    from mmbuilder.formats._pptx import contact, template
    from mmbuilder.formats._pptx.stage import Wanted
    from mmbuilder.pipeline import BuildOptions, build

    wanted = Wanted(opening, telling)
    deck, first, plain = template.chosen(file, wanted)
    for layout, lacks in template.looked_at(deck):
        served = [
            word for word, found in (("opening", first), ("telling, pauses", plain)) if found.layout is layout
        ]
        use = (
            f"serves: {', '.join(served)}" if served else (f"cannot serve: {lacks}" if lacks else "not used")
        )
        click.echo(f"  {layout.name}: {use}")
    write_new(out, {"template-contact-sheet.png": contact.sheet(template.stage(file, wanted))}, replace=True)
    case = next(path for path in resources.bundled_cases() if path.name.startswith("eye"))
    options = BuildOptions(
        out, template=file, skip_names=True, opening_layout=opening, telling_layout=telling
    )
    sample = build(case, options).deck
    click.echo(f"Contact sheet: {out / 'template-contact-sheet.png'}; sample deck: {sample}")
    click.echo("To choose other layouts, write them into department.yaml:")
    click.echo(f"  layouts: {{opening: {first.layout.name}, telling: {plain.layout.name}}}")
    return ExitCode.OK
