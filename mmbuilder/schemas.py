"""Build pydantic's schemas when they are first needed, and without plug-ins.

A plug-in may send what it is handed over a network: none may see a case, so none is asked.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager

from pydantic import BaseModel

_SWITCH = "PYDANTIC_DISABLE_PLUGINS"


def complete(*models: type[BaseModel]) -> None:
    """Build the schemas of these models, those that are not built yet."""
    waiting = [model for model in models if not model.__pydantic_complete__]
    if waiting:
        with _without_plugins():
            for model in waiting:
                model.model_rebuild()


@contextmanager
def _without_plugins() -> Iterator[None]:
    before = os.environ.get(_SWITCH)
    os.environ[_SWITCH] = "__all__"
    try:
        yield
    finally:
        if before is None:
            del os.environ[_SWITCH]
        else:
            os.environ[_SWITCH] = before
