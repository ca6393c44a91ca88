"""Revisions published while two workers answer: no answer mixes two, and nobody is led back to an older one.

Against processes of their own, longer: `python -m tests.publishing`.
"""

from collections.abc import Callable
from contextlib import ExitStack
from pathlib import Path
from threading import Event

from service.storage.engine import open_database
from service.storage.revisions import RevisionStore
from service.usecases.announced import Announced
from service.usecases.library import Library
from service.web.app import create_app
from service.web.kept_answers import KeptAnswers
from tests.publishing import Ask, Seen, catalogs, mixed, seen_while, stale
from tests.support.sqlite_files import with_tables
from tests.web.calls import ask

PUBLISHES = 6
FRESH_S = 0.03


def worker(address: str, announced: Announced, opened: ExitStack) -> Ask:
    """An application with a database and a library of its own, as another process has it."""
    database = open_database(address)
    opened.callback(database.close)
    library = Library(RevisionStore(database), opens_beside=True, fresh_s=FRESH_S, announced=announced)
    app = create_app(library, kept=KeptAnswers(1024 * 1024))
    return lambda question: ask(app, question).json()


def seen_by_two(folder: Path, announced: Callable[[], Announced]) -> list[Seen]:
    """What two workers answer while revisions are published."""
    file = folder / "catalog.sqlite3"
    with_tables(file)
    address = f"sqlite:///{file}"
    with ExitStack() as opened:
        database = open_database(address)
        opened.callback(database.close)
        library, revisions, pause = Library(RevisionStore(database)), catalogs(), Event()
        library.publish(next(revisions))

        def publish() -> None:
            for _ in range(PUBLISHES):
                library.publish(next(revisions))
                pause.wait(2 * FRESH_S)

        return seen_while(publish, [worker(address, announced(), opened) for _ in range(2)], 60)


def test_nobody_is_led_back_to_an_older_revision(tmp_path: Path) -> None:
    """Among two workers that announce to one another what they answer from."""
    file = tmp_path / "announced"
    Announced.prepare(file)
    seen = seen_by_two(tmp_path, lambda: Announced(file))
    assert (mixed(seen), stale(seen)) == ([], [])
    assert len({one.revision for one in seen}) > 1
    assert Announced(file).number >= max(one.revision for one in seen)  # perhaps nobody asked after the last


def test_what_is_stale_or_mixed_is_found() -> None:
    """An answer is stale when one of a later revision had come before it was asked for, not when it came meanwhile."""
    before, beside, after = Seen(0.0, 1.0, 1, 1), Seen(1.5, 3.0, 1, 1), Seen(2.5, 4.0, 1, 1)
    assert stale([after, before, Seen(1.0, 2.0, 2, 2), beside]) == [after]
    assert mixed([before, Seen(0.0, 1.0, 1, 2)]) == [Seen(0.0, 1.0, 1, 2)]


def test_the_highest_number_stays_announced(tmp_path: Path) -> None:
    """Whoever says it, and in whatever order."""
    file = tmp_path / "announced"
    Announced.prepare(file)
    one, other = Announced(file), Announced(file)
    one.announce(7)
    other.announce(3)
    assert (one.number, other.number) == (7, 7)
    assert Announced().number == 0
