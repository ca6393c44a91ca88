"""Settings come from the environment alone, and a wrong one is told by its name."""

import pytest

from service.settings import SettingsError, read_settings


@pytest.mark.parametrize(("given", "taken"), [("true", True), ("1", True), ("false", False), ("", False)])
def test_workshop_pages(monkeypatch: pytest.MonkeyPatch, given: str, taken: bool) -> None:
    """Off unless it is said; an empty variable says nothing."""
    monkeypatch.setenv("PORTWRIGHT_WORKSHOP_PAGES", given)
    assert read_settings().workshop_pages is taken
    monkeypatch.delenv("PORTWRIGHT_WORKSHOP_PAGES")
    assert read_settings().workshop_pages is False


def test_a_wrong_value_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    """The variable, what was found, what would be right."""
    monkeypatch.setenv("PORTWRIGHT_WORKSHOP_PAGES", "may\tbe")
    with pytest.raises(SettingsError) as refused:
        read_settings()
    assert str(refused.value) == r'PORTWRIGHT_WORKSHOP_PAGES: found "may\u0009be", expected true or false'
