"""What is so today of a bill or a sheet of an earlier revision, as its page tells it."""

from dataclasses import dataclass

from service.documents.answer import CurrentBill

_ONLY_MONEY = frozenset({"price"})
"""What may have changed of a part that is built in as before."""


@dataclass(frozen=True)
class Today:
    """The words of the notice. `warning`: what stands over it, empty where all is as it was; `key`: of the bill today,
    None: there is none."""

    warning: str
    texts: tuple[str, ...]
    key: str | None


def told_today(what: str, revision: int, current: CurrentBill | None, *, reads_alike: bool = True) -> Today | None:
    """The notice of a bill or sheet (`what`) of a revision; None where that revision is the newest."""
    if current is None or current["revision"] == revision:
        return None
    texts = [f"This {what} is of catalog revision {revision}.", current["text"]]
    texts += [part["text"] for part in current["changed"]]
    if current["valid"] and not reads_alike:
        texts.append("Its steps or parts are told otherwise today.")
    return Today(_warning(what, current, reads_alike=reads_alike), tuple(texts), current["key"])


def _warning(what: str, current: CurrentBill, *, reads_alike: bool) -> str:
    if not current["valid"]:
        return f"Not valid today: do not build by this {what} before you have asked"
    built_otherwise = any(part["what"] not in _ONLY_MONEY for part in current["changed"])
    return f"Changed since: look at today's {what} before you build" if built_otherwise or not reads_alike else ""
