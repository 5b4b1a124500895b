"""Pages whose code is read when they are first asked for."""

from __future__ import annotations

import subprocess
import sys
from importlib import import_module
from pathlib import Path

from mmbuilder import registry
from mmbuilder.page.app import PARTS, create_app
from mmbuilder.page.desk import Desk
from mmbuilder.page.guarding import Door

_READ = """
import sys
from pathlib import Path
from mmbuilder.page.app import create_app
from mmbuilder.page.desk import Desk
from mmbuilder.page.guarding import Door

app = create_app(Desk(Path(sys.argv[1])), Door(5000))
read = sorted(name for name in sys.modules if name.startswith("mmbuilder.page.parts._"))
print(*(name for name in read if name.endswith("_page")), "mmbuilder.scrub.detectors.date" in sys.modules)
"""


def test_every_address_has_its_function(desk: Desk) -> None:
    app = create_app(desk, Door(5000))
    parts = registry.discover(PARTS, "NAME", "blueprint").values()
    late = [part for part in parts if part.blueprint.import_name != part.__name__]
    assert len(late) >= 7
    for part in late:
        code = import_module(part.blueprint.import_name)
        ours = [
            name.removeprefix(f"{part.NAME}.")
            for name in app.view_functions
            if name.startswith(f"{part.NAME}.")
        ]
        assert ours, part.NAME
        assert all(callable(getattr(code, name)) for name in ours), part.NAME


def test_the_first_page_waits_for_no_other(tmp_path: Path) -> None:
    asked = [sys.executable, "-c", _READ, str(tmp_path)]
    assert subprocess.run(asked, capture_output=True, text=True, check=True).stdout.split() == ["False"]
