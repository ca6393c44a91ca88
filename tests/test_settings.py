"""Settings come from the environment alone, and a wrong one is told by its name."""

import pytest

from service.settings import WORK_LIMIT, SettingsError, read_settings


@pytest.mark.parametrize(("given", "taken"), [("true", True), ("1", True), ("false", False), ("", False)])
def test_workshop_pages(monkeypatch: pytest.MonkeyPatch, given: str, taken: bool) -> None:
    """Off unless it is said; an empty variable says nothing."""
    monkeypatch.setenv("PORTWRIGHT_WORKSHOP_PAGES", given)
    assert read_settings().workshop_pages is taken
    monkeypatch.delenv("PORTWRIGHT_WORKSHOP_PAGES")
    assert read_settings().workshop_pages is False


@pytest.mark.parametrize(
    ("given", "taken"),
    [
        ("", ()),
        ("https://shop.example", ("https://shop.example",)),
        (" http://a , https://b-c.example:8443", ("http://a", "https://b-c.example:8443")),
        ("http://127.0.0.1:8080,http://[::1]:81", ("http://127.0.0.1:8080", "http://[::1]:81")),
    ],
)
def test_allowed_origins(monkeypatch: pytest.MonkeyPatch, given: str, taken: tuple[str, ...]) -> None:
    """None unless they are said."""
    monkeypatch.setenv("PORTWRIGHT_ALLOWED_ORIGINS", given)
    assert read_settings().allowed_origins == taken


@pytest.mark.parametrize(
    "wrong",
    [
        *(
            "*",
            "null",
            "shop.example",
            "https://shop.example/",
            "https://Shop.example",
            "HTTPS://shop.example",
            "https://",
        ),
        *("https://shop.example:443", "http://shop.example:80", "https://shop.example:0", "https://shop.example:65536"),
        *("https://*.shop.example", "https://user@shop.example", "https://shop.example?x", "ftp://shop.example", "a b"),
        *(
            "https://sh\u00f6p.example",
            "https://-a.example",
            "https://a..b",
            "https://shop.example\t.b",
            "http://a:\u0661",
        ),
    ],
)
def test_wrong_origins_are_told(monkeypatch: pytest.MonkeyPatch, wrong: str) -> None:
    """Each by itself: what a browser would never send could never be allowed."""
    for given in (wrong, f"https://good.example,{wrong}", f"{wrong},https://good.example"):
        monkeypatch.setenv("PORTWRIGHT_ALLOWED_ORIGINS", given)
        with pytest.raises(
            SettingsError, match=r"^PORTWRIGHT_ALLOWED_ORIGINS: found .*, expected exact origins"
        ) as told:
            read_settings()
        assert "good" not in str(told.value)


def test_work_limit(monkeypatch: pytest.MonkeyPatch) -> None:
    """A number of steps; one that is none, or would refuse every question, is told."""
    assert read_settings().work_limit == WORK_LIMIT
    monkeypatch.setenv("PORTWRIGHT_WORK_LIMIT", "5000000")
    assert read_settings().work_limit == 5_000_000
    for wrong in ("0", "999", "-1", "1e6", "many", "1" * 20):
        monkeypatch.setenv("PORTWRIGHT_WORK_LIMIT", wrong)
        with pytest.raises(SettingsError, match=r"^PORTWRIGHT_WORK_LIMIT: found .*, expected a whole number of steps"):
            read_settings()


def test_every_fault_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    """Not the first alone; and commas with nothing between them are one."""
    monkeypatch.setenv("PORTWRIGHT_ALLOWED_ORIGINS", "https://shop.example,,")
    monkeypatch.setenv("PORTWRIGHT_WORKSHOP_PAGES", "no, thanks")
    with pytest.raises(SettingsError, match=r'ORIGINS: found "", .*PAGES: found "no, thanks"'):
        read_settings()


def test_a_wrong_value_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    """The variable, what was found, what would be right."""
    monkeypatch.setenv("PORTWRIGHT_WORKSHOP_PAGES", "may\tbe")
    with pytest.raises(SettingsError) as refused:
        read_settings()
    assert str(refused.value) == r'PORTWRIGHT_WORKSHOP_PAGES: found "may\u0009be", expected true or false'
