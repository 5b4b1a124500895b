"""A new case: its code is put right where it cannot be one. Common practice, no source."""

from __future__ import annotations

from pathlib import Path

import pytest
from flask.testing import FlaskClient

from mmbuilder.page import Desk


@pytest.fixture
def case(tmp_path: Path) -> Path:
    root = tmp_path / "new"
    root.mkdir()
    return root


@pytest.mark.parametrize(
    ("typed", "offered"),
    [("Uro Nov", "uro-nov"), ("eye_02", "eye-02"), ("Écho 3!", "echo-3"), ("-a--b-", "a-b"), ("???", "")],
)
def test_a_code_that_is_none_is_offered_put_right(
    client: FlaskClient, desk: Desk, typed: str, offered: str
) -> None:
    assert 'maxlength="80" value=""' in client.get("/start/").text
    sent = {"specialty": "urology", "use": "teaching"}
    page = client.post("/start/", data={"code": typed, **sent}).text
    assert not desk.text()
    assert "small letters, figures and hyphens" in page
    assert 'aria-describedby="code-hint fault" aria-invalid="true"' in page
    assert f'maxlength="80" value="{offered}"' in page
    for chosen in sent.values():  # nothing is to be chosen again
        assert f"<option selected>{chosen}</option>" in page
    if offered:
        assert client.post("/start/", data={"code": offered, **sent}).status_code == 303
        assert f"code: {offered}\n" in desk.text()
