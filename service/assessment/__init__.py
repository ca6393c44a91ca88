"""Assesses a valid bill with the trade's engineering: facts and cautions, never its validity."""

from service.assessment.assess import Assessor

__all__ = ["Assessor"]
