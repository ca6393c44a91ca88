"""Assesses a valid bill with the trade's engineering: facts, figures and cautions, never its validity."""

from service.assessment.assess import Assessor
from service.assessment.drop_curve import drop_curve
from service.assessment.profile import profiles_of

__all__ = ["Assessor", "drop_curve", "profiles_of"]
