"""Questions that are asked are counted behind the answers, each different one once."""

from pathlib import Path
from typing import Any

from service.storage.asked_questions import AskedQuestionStore
from service.storage.errors import StorageError
from service.usecases.standing import KeptQuestions
from service.web.app import create_app
from service.web.asked_questions import AskedQuestions
from service.web.kept_answers import KeptAnswers
from tests.support.catalogs import small_catalog
from tests.web.calls import ask, get
from tests.web.conftest import QUESTION, library_in

DEARER = QUESTION | {"max_price": 90_000}


def test_what_is_asked_is_counted_however_it_is_answered(tmp_path: Path) -> None:
    """By body, by query, on the page, from what is kept; not what is refused; without limit, revision and detail."""
    with library_in(tmp_path / "file", small_catalog()) as library:
        library._fresh_s = 60.0
        store = AskedQuestionStore(library._store._database)
        asked = AskedQuestions(store)
        app = create_app(library, asked=asked, kept=KeptAnswers(2**20))
        get(app, "/v1/health/ready")
        for body in (QUESTION, QUESTION, QUESTION | {"limit": 3, "detail": "brief"}, QUESTION | {"chassis": "brok"}):
            ask(app, body)
        for _ in range(2):
            get(app, "/v1/bills", params=DEARER)
        page = get(app, "/ask", params={name: str(value) for name, value in QUESTION.items()})
        assert page.status_code == 200
        assert store.last(9) == []
        assert asked.count()
        assert not asked.count()
        kept = KeptQuestions(asked=store).gather()
    counted = {question.text: question.times for question in kept.asked}
    assert counted == {
        '{"chassis":"brook","layout":"hose-centre"}': 4,
        '{"chassis":"brook","layout":"hose-centre","max_price":90000}': 2,
    }


def test_without_a_place_for_them_none_is_kept(tmp_path: Path) -> None:
    with library_in(tmp_path / "file", small_catalog()) as library:
        asked = AskedQuestions(None)
        assert ask(create_app(library, asked=asked), QUESTION).status_code == 200
        assert not asked.count()


def test_a_database_that_fails_loses_them_and_nothing_else() -> None:
    class Failing(AskedQuestionStore):
        def __init__(self) -> None:
            pass

        def add(self, *_: Any) -> None:
            raise StorageError

    asked = AskedQuestions(Failing())
    asked.note_again(b"chassis=brook&layout=hose-centre", None)
    asked.count_the_last()
    assert not asked.count()
