"""`mmbuilder open`: the case as a page in the browser, on this computer only."""

from __future__ import annotations

from pathlib import Path

import click

from mmbuilder.errors import ExitCode


@click.command("open")
@click.argument("case", type=click.Path(path_type=Path))
@click.option(
    "--port", type=click.IntRange(0, 65535), default=0, help="To serve on; any free one if not given."
)
@click.option(
    "--idle-minutes",
    type=click.FloatRange(0),
    default=120,
    show_default=True,
    help="Without use, after which it stops by itself; 0 for never.",
)
@click.option("--no-browser", is_flag=True, help="Only print the address; open it yourself.")
def command(case: Path, port: int, idle_minutes: float, no_browser: bool) -> int:
    """Open a case as a page in your browser: write it, cover, decide, sign, get the decks.

    The folder is made if it is not there. Nothing leaves this computer; close with Ctrl+C.
    """
    from mmbuilder.errors import OutputNotWritable
    from mmbuilder.page import launch

    root = case.parent if case.name == "case.yaml" else case
    try:
        root.mkdir(parents=True, exist_ok=True)
    except OSError as fault:
        raise OutputNotWritable(f"this folder cannot be made ({fault.strerror}); choose another") from fault
    try:
        launch(root, port=port, idle_minutes=idle_minutes, ready=lambda address: _tell(address, no_browser))
    except OSError as fault:
        raise OutputNotWritable(
            f"the page cannot be served on port {port} ({fault.strerror}); leave out --port"
        ) from fault
    click.echo("Stopped. Everything is kept in the case folder.")
    return ExitCode.OK


def _tell(address: str, no_browser: bool) -> None:
    click.echo(
        "The page of this case, on this computer only; the address works once:\n"
        f"  {address}\nStop with Ctrl+C."
    )
    if not no_browser:
        import webbrowser

        webbrowser.open(address)
