"""A page whose code is read when it is first asked for: the first page of all does not wait for it.

What reads a note compiles hundreds of patterns, a third of a second on a slow computer.
"""

from __future__ import annotations

from collections.abc import Mapping
from importlib import import_module

from flask import Blueprint
from flask.typing import ResponseReturnValue, RouteCallable


def late(name: str, module: str, routes: Mapping[str, str]) -> Blueprint:
    """Return the pages of a part, each a function of a module that is imported with the first request.

    Args:
        name: of the part.
        module: dotted name.
        routes: by method and address below the part (`"GET /"`), the name of the function.
    """
    blueprint = Blueprint(name, module)
    for route, function in routes.items():
        method, address = route.split(" ")
        blueprint.add_url_rule(address, function, _view(module, function), methods=[method])
    return blueprint


def _view(module: str, function: str) -> RouteCallable:
    def view(**values: object) -> ResponseReturnValue:
        answer: ResponseReturnValue = getattr(import_module(module), function)(**values)
        return answer

    return view
