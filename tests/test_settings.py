"""Settings come from the environment alone, and a wrong one is told by its name."""

import pytest

from service.settings import WORK_LIMIT, SettingsError, read_settings
from service.storage.keeping import Keeping


@pytest.mark.parametrize(("given", "taken"), [("true", True), ("1", True), ("false", False), ("", False)])
def test_style_page(monkeypatch: pytest.MonkeyPatch, given: str, taken: bool) -> None:
    """Off unless it is said; an empty variable says nothing."""
    monkeypatch.setenv("PORTWRIGHT_STYLE_PAGE", given)
    assert read_settings().style_page is taken
    monkeypatch.delenv("PORTWRIGHT_STYLE_PAGE")
    assert read_settings().style_page is False


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
    monkeypatch.setenv("PORTWRIGHT_STYLE_PAGE", "no, thanks")
    with pytest.raises(SettingsError, match=r'ORIGINS: found "", .*PAGE: found "no, thanks"'):
        read_settings()


def test_a_wrong_value_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    """The variable, what was found, what would be right."""
    monkeypatch.setenv("PORTWRIGHT_STYLE_PAGE", "may\tbe")
    with pytest.raises(SettingsError) as refused:
        read_settings()
    assert str(refused.value) == r'PORTWRIGHT_STYLE_PAGE: found "may\u0009be", expected true or false'


@pytest.mark.parametrize(
    ("given", "taken"),
    [("", None), ("https://parts.example", "https://parts.example"), ("http://[::1]:81/", "http://[::1]:81")],
)
def test_public_url(monkeypatch: pytest.MonkeyPatch, given: str, taken: str | None) -> None:
    """A slash behind it does no harm."""
    monkeypatch.setenv("PORTWRIGHT_PUBLIC_URL", given)
    assert read_settings().public_url == taken


@pytest.mark.parametrize(
    "wrong", ["parts.example", "https://a.example/b", "https://a.example,https://b.example", "ftp://a"]
)
def test_a_wrong_public_url_is_told(monkeypatch: pytest.MonkeyPatch, wrong: str) -> None:
    monkeypatch.setenv("PORTWRIGHT_PUBLIC_URL", wrong)
    with pytest.raises(SettingsError, match=r"^PORTWRIGHT_PUBLIC_URL: found .*, expected the address by which"):
        read_settings()


@pytest.mark.parametrize(
    ("given", "taken"), [("", ()), ("parts.example, 10.0.0.7", ("parts.example", "10.0.0.7")), ("::1", ("::1",))]
)
def test_allowed_hosts(monkeypatch: pytest.MonkeyPatch, given: str, taken: tuple[str, ...]) -> None:
    monkeypatch.setenv("PORTWRIGHT_ALLOWED_HOSTS", given)
    assert read_settings().allowed_hosts == taken


@pytest.mark.parametrize("wrong", ["*", "a.example:80", "https://a.example", "a b", "A.example", "a.example,"])
def test_wrong_hosts_are_told(monkeypatch: pytest.MonkeyPatch, wrong: str) -> None:
    monkeypatch.setenv("PORTWRIGHT_ALLOWED_HOSTS", wrong)
    with pytest.raises(SettingsError, match=r"^PORTWRIGHT_ALLOWED_HOSTS: found .*, expected hosts with commas"):
        read_settings()


@pytest.mark.parametrize("name", ["MOST_CONNECTIONS", "MOST_CONNECTIONS_A_CLIENT", "HEAD_TIMEOUT_S"])
def test_limits_of_connections(monkeypatch: pytest.MonkeyPatch, name: str) -> None:
    """Numbers above nothing."""
    monkeypatch.setenv(f"PORTWRIGHT_{name}", "20")
    assert getattr(read_settings(), name.lower()) == 20
    for wrong in ("0", "-1", "x"):
        monkeypatch.setenv(f"PORTWRIGHT_{name}", wrong)
        with pytest.raises(SettingsError, match=rf"^PORTWRIGHT_{name}: found .*, expected a .*number"):
            read_settings()


KEPT = {"ORDER_CHECKS": 90, "INQUIRIES": 365, "SHORT_LINKS": 3_650, "DRAFTS": 365}


def test_days_of_keeping(monkeypatch: pytest.MonkeyPatch) -> None:
    """As is usual, unless it is said."""
    assert read_settings().keeping == _keeping(*KEPT.values())
    for number, kind in enumerate(KEPT, 1):
        monkeypatch.setenv(f"PORTWRIGHT_KEEP_{kind}_DAYS", str(number))
    assert read_settings().keeping == _keeping(1, 2, 3, 4)


def _keeping(order_checks: int, inquiries: int, short_links: int, drafts: int) -> Keeping:
    return Keeping(order_checks, inquiries, short_links, drafts_days=drafts)


@pytest.mark.parametrize("kind", KEPT)
@pytest.mark.parametrize("wrong", ["0", "-1", "36501", "1.5", "ever"])
def test_days_that_are_none_are_told(monkeypatch: pytest.MonkeyPatch, kind: str, wrong: str) -> None:
    """By the variable, with what would be right."""
    monkeypatch.setenv(f"PORTWRIGHT_KEEP_{kind}_DAYS", wrong)
    with pytest.raises(SettingsError, match=f'{kind}_DAYS: found "{wrong}", expected a whole number of days from 1 to'):
        read_settings()
