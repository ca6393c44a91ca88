"""Which part next: the one part that, if the maker had it, would give most questions without a bill one."""

from service.nextparts.candidates import Candidate
from service.nextparts.needs import Needs
from service.nextparts.unlocking import Found, Unanswered, Unlocked, next_parts

__all__ = ["Candidate", "Found", "Needs", "Unanswered", "Unlocked", "next_parts"]
