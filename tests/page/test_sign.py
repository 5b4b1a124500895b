"""Nothing is signed while a finding is open, nothing is taken before it is signed, and a change undoes it."""

from __future__ import annotations

import html
import io
import re
import shutil
import time
import zipfile
from pathlib import Path
from typing import Any

import pytest
from flask.testing import FlaskClient

from mmbuilder.casefile.folder import CaseFolder
from mmbuilder.page import Desk
from mmbuilder.safe.terms import Looked
from mmbuilder.scrub.plan import RedactionPlan
from mmbuilder.scrub.reidentify import Warning, singled_out
from tests.page.conftest import copied, ended, let_in

EVERYTHING = [word.value for word in Looked]


@pytest.fixture
def case(tmp_path: Path, seen: Path) -> Path:
    return copied("airway-prone", tmp_path)


@pytest.fixture
def ready(case: Path, decided: Path) -> Path:
    """The case with every finding decided."""
    return Path(shutil.copytree(decided, case, dirs_exist_ok=True))


def waited(client: FlaskClient, address: str) -> str:
    return html.unescape(ended(client, address))


def sign(client: FlaskClient, desk: Desk, looked: list[str] = EVERYTHING, role: str = "consultant") -> str:
    form = {"revision": desk.revision(), "role": role, "looked": looked}
    answer = client.post("/sign/", data=form)
    return "" if answer.status_code == 303 else html.unescape(str(answer.text))


def test_open_findings_are_not_signed(desk: Desk) -> None:
    client = let_in(desk)
    page = waited(client, "/sign/")
    assert "1 finding in words not decided" in page
    assert "picture 1: " in page
    assert "disabled" in page.split('<button class="strong"')[1].split(">")[0]
    assert "it cannot be signed yet" in sign(client, desk)
    assert not (desk.root / "sign-off.yaml").exists()


def test_one_count_of_what_is_left_on_every_page(desk: Desk) -> None:
    """Cover puts the pieces of one line together; Sign and the overview count as it does."""
    client = let_in(desk)
    page = waited(client, "/sign/")
    looked = waited(client, "/cover/1")
    for _ in range(600):
        told = client.get("/cover/1/boxes").json
        if not told["looking"]:
            break
        time.sleep(0.2)
    (count,) = re.findall(r"picture 1: (\d+) places? not decided", page)
    assert f"<strong>{count} to decide.</strong>" in told["panel"], looked
    places = sum(int(one) for one in re.findall(r"picture \d+: (\d+) places? not decided", page))
    assert f"{places} place{'s' if places != 1 else ''} to decide" in client.get("/start/").text
    assert 'href="/cover/1"' in page


def test_a_case_without_pictures_is_told_that_none_is_taken_in(client: FlaskClient, desk: Desk) -> None:
    """Who has stills beside the note would else be led past the page that takes them."""
    desk.change(lambda tree: tree.pop("frames"), desk.revision())
    waited(client, "/words/")
    page = client.get("/start/").text
    assert '<a href="/cover/">Cover pictures</a>' in page
    assert "none is taken in" in page


def test_from_decided_to_taken_and_fallen(ready: Path, desk: Desk) -> None:
    client = let_in(desk)
    # The draft is begun to be built while what was looked at is ticked.
    assert 'data-ahead="/get/state?use=' in waited(client, "/sign/")
    for address in ("/get/everything", "/get/file/1"):
        answer = client.get(address)
        assert answer.status_code == 400
        assert "nobody has signed" in answer.text
    assert "before you have looked at: faces and eyes" in sign(
        client, desk, [word for word in EVERYTHING if word != "faces and eyes"]
    )
    assert "choose your role" in sign(client, desk, role="Orla Quennimore")
    assert not (ready / "sign-off.yaml").exists()
    assert sign(client, desk) == ""
    signed = waited(client, "/sign/")
    assert "Identifiers removed, reviewed by consultant." in signed
    assert "I looked at" not in signed  # nothing is left to sign

    page = waited(client, "/get/")
    assert "Everything as one .zip" in page
    packed = client.get("/get/everything")
    assert packed.status_code == 200
    with zipfile.ZipFile(io.BytesIO(packed.data)) as archive:
        names = archive.namelist()
        assert "airway-prone-department-review.pptx" in names
        assert not [name for name in names if "DRAFT" in name]
        deck = archive.read("airway-prone-department-review.pptx")
    with zipfile.ZipFile(io.BytesIO(deck)) as slides:
        told = "".join(slides.read(name).decode() for name in slides.namelist() if name.endswith(".xml"))
    assert "DRAFT" not in told
    assert client.get("/get/file/1").data == deck
    assert client.get("/get/file/99").status_code == 404
    assert client.get("/get/slide/1").data.startswith(b"\x89PNG")
    assert "reviewed by consultant" in client.get("/get/report").text

    desk.change(lambda tree: tree.update(title="A title nobody reviewed"), desk.revision())
    fallen = waited(client, "/sign/")
    assert "the case has changed since it was signed" in fallen
    assert "I looked at" in fallen
    assert client.get("/get/everything").status_code == 400
    assert "the case has changed since it was signed" in html.unescape(client.get("/get/file/1").text)
    assert desk.undo() == "case.yaml"
    assert "no longer holds" not in waited(client, "/sign/")
    client.post("/sign/withdraw", data={"revision": desk.revision()})
    assert "nobody has signed" in client.get("/get/everything").text


def test_who_may_be_recognised_is_looked_for_once_in_a_case_as_it_is(
    ready: Path, desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    looked: list[bool] = []

    def look(folder: CaseFolder, plan: RedactionPlan | None = None) -> tuple[Warning, ...]:
        looked.append(plan is not None)
        return singled_out(folder, plan)

    client = let_in(desk)
    monkeypatch.setattr("mmbuilder.scrub.reidentify.singled_out", look)
    first = waited(client, "/sign/")
    assert looked.count(True) == 1, "once more when the search is done"
    assert waited(client, "/sign/") == first
    assert looked.count(True) == 1

    told = "The patient was the first in the country to have it."
    desk.change(lambda tree: tree.update(situation=told), desk.revision())
    waited(client, "/sign/")
    assert looked.count(True) == 2, "the case has changed"
    desk.forget()
    waited(client, "/sign/")
    assert looked.count(True) == 3, "it was forgotten"


def test_what_the_room_sees_says_that_it_is_signed(ready: Path, desk: Desk) -> None:
    client = let_in(desk)
    waited(client, "/sign/")

    def banner() -> str:
        for _ in range(600):
            if not (client.get("/timeline/room/state").json or {})["running"]:
                break
            time.sleep(0.2)
        return str(client.get("/timeline/room").text)

    assert "Identifiers not yet reviewed." in banner()
    assert sign(client, desk) == ""
    assert "Identifiers removed, reviewed by consultant." in banner()


def test_a_department_may_ask_for_two(ready: Path, desk: Desk) -> None:
    (ready / "department.yaml").write_text("second reviewer: yes\n")
    client = let_in(desk)
    waited(client, "/sign/")
    assert sign(client, desk) == ""
    second = waited(client, "/sign/")
    assert "A second person signs below" in second
    assert "I looked at" in second
    assert client.get("/get/everything").status_code == 400
    assert sign(client, desk, role="information governance lead") == ""
    assert "reviewed by consultant and information governance lead" in waited(client, "/sign/")


def test_ticks_that_are_still_true_may_be_kept_by_who_signed(ready: Path, desk: Desk) -> None:
    client = let_in(desk)
    page = waited(client, "/sign/")
    assert "voices" not in page.split("I looked at")[1]  # a case has no sound
    assert sign(client, desk) == ""
    desk.change(lambda tree: tree.update(title="A title nobody reviewed"), desk.revision())
    fallen = waited(client, "/sign/")
    assert "again=yes" in fallen
    assert " checked" not in fallen  # somebody else may be reading it
    mine = waited(client, "/sign/?again=yes")
    ticked = re.findall(r'value="([^"]+)" required checked', mine)
    assert ticked == [
        "every picture as it will be shown",
        "faces and eyes",
        "tattoos, jewellery and scars",
        "reflections and screens",
    ]


def test_a_picture_of_which_nothing_is_said_is_settled_first(ready: Path, desk: Desk) -> None:
    from mmbuilder.page.stills import NOT_SAID

    def all_stays(tree: Any) -> None:
        for box in tree["frames"][0].pop("cover"):
            tree["frames"][0]["keep"].append({"box": box["box"], "why": "shown on purpose"})

    client = let_in(desk)
    desk.change(all_stays, desk.revision())
    assert f"picture 1: {NOT_SAID}" in waited(client, "/sign/")
    assert f"picture 1: {NOT_SAID}" in client.get("/start/").text
    assert "it cannot be signed yet" in sign(client, desk)
    assert not (ready / "sign-off.yaml").exists()


def test_a_sign_off_from_an_old_tab_is_refused(ready: Path, desk: Desk) -> None:
    client, old = let_in(desk), desk.revision()
    desk.change(lambda tree: tree.update(title="Another"), old)
    waited(client, "/sign/")
    answer = client.post("/sign/", data={"revision": old, "role": "nurse", "looked": EVERYTHING})
    assert answer.status_code == 409
    assert not (ready / "sign-off.yaml").exists()


def test_a_case_with_faults_is_neither_signed_nor_built(desk: Desk) -> None:
    desk.change(lambda tree: tree.pop("title"), desk.revision())
    client = let_in(desk)
    assert "faults" in client.get("/sign/").text
    told = client.get("/get/").text
    assert "faults that stop it" in told
    assert "/write/story/#at-title" in told  # and where to mend it
    assert "faults that stop it" in sign(client, desk)


def test_slides_are_shown_without_libreoffice(
    ready: Path, desk: Desk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from PIL import Image

    from mmbuilder.page import results
    from mmbuilder.safe.terms import Use

    monkeypatch.setattr(results, "_by_office", lambda deck: None)
    report = results.make(ready, Use.REFLECTION, False, tmp_path / "into")
    made = results.picture(ready, Use.REFLECTION, False, report.deck)
    assert not made.as_shown
    assert len(made.pictures) >= 3
    for path in made.pictures:
        with Image.open(path) as picture:
            assert picture.width == results.WIDE
            assert len(picture.convert("L").getcolors(256) or ()) > 10  # something is written on it


def test_files_are_told_of_before_the_slides_are_pictures(
    ready: Path, desk: Desk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from concurrent.futures import Future

    from mmbuilder.page import results
    from mmbuilder.safe.terms import Use

    built, pictured = Future[Any](), Future[Any]()
    built.set_result(results.make(ready, Use.REVIEW, False, tmp_path / "into"))
    monkeypatch.setattr(desk.looker, "do", lambda work, *told: built if work is results.make else pictured)
    client = let_in(desk)
    page = client.get("/get/").text
    assert 'data-part="pictures"' in page
    assert "Report of what was removed" in page
    assert client.get("/get/state").json == {"running": False}
    assert client.get("/get/state?of=slides").json == {"running": True}
    assert client.get("/get/slide/1").status_code == 404
    pictured.set_exception(OSError("no space"))
    page = html.unescape(client.get("/get/").text)
    assert "The slides could not be turned into pictures: a fault of the program itself (OSError)." in page


def test_what_lacks_is_asked_for_by_the_labels_of_the_form(desk: Desk) -> None:
    """Labels: mmbuilder/page/form/words.yaml, where a surgeon reads them."""
    client = let_in(desk)

    def shorter(tree: Any) -> None:
        tree["actions"] = [{"what": "Keep a second bag", "owner": "Theatre lead", "measure": "bags"}]

    desk.change(shorter, desk.revision())
    told = html.unescape(client.get("/start/").text)
    asked = re.findall(r'<a href="/write/actions/#at-actions-0-\w+">([^<]+)</a>', told)
    assert asked[0] == "Action 1: Due"
    assert {"For how long", "Before"} <= set(asked)  # behind the first the action is not named again
    assert "period: 3 months" not in told


@pytest.mark.parametrize("address", ["/sign/", "/get/"])
def test_consent_is_asked_for_where_the_form_asks_for_it(desk: Desk, address: str) -> None:
    client = let_in(desk)
    told = html.unescape(client.get(f"{address}?use=case%20report").text)
    assert "needs the patient's consent to publication" in told
    assert "#at-governance-publication_consent" in told
    assert "Consent to publication</a>" in told
    assert "`governance`" not in told
    assert "mmbuilder open" not in told


def test_the_next_step_is_the_first_where_something_is_left(ready: Path, desk: Desk) -> None:
    """Common practice, no source."""
    client = let_in(desk)
    waited(client, "/sign/")

    def after() -> str:
        return str(client.get("/start/next").location)

    assert after() == "/sign/"
    assert sign(client, desk) == ""
    assert after() == "/get/"
    desk.change(lambda tree: tree.pop("questions", None), desk.revision())
    page = client.get("/write/story/").text
    assert 'href="/start/next">Next step</a>' in page
    assert '<a href="/write/questions/">Questions for the room</a>' in page.partition("Still empty:")[2]
    desk.change(lambda tree: tree.pop("asked"), desk.revision())
    assert after() == "/write/"


def test_the_overview_says_what_get_says(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    from concurrent.futures import Future

    from mmbuilder.errors import IdentifierInOutput
    from mmbuilder.page import results

    fails: Future[Any] = Future()
    said = "In the handout: the name of the nurse in page 2 (person 2 of the private list)"
    fails.set_exception(IdentifierInOutput(said, [("people", 1)]))
    do = desk.looker.do
    monkeypatch.setattr(
        desk.looker, "do", lambda work, *told: fails if work is results.make else do(work, *told)
    )
    client = let_in(desk)
    assert said not in client.get("/start/").text
    got = client.get("/get/").text
    assert said in got
    assert 'href="/write/names/#at-people-1"' in got
    assert f"nothing was built: {said}" in client.get("/start/").text
