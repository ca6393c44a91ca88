"""Assesses a valid bill with the trade's engineering: facts and cautions, never its validity."""

from service.assessment.assess import assess

__all__ = ["assess"]
