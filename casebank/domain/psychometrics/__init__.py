"""Statistics of learners and items, in the testing literature's terms; arrays in, estimates out."""

from casebank.domain.psychometrics.agreement import kappa, kappa_from_table
from casebank.domain.psychometrics.bands import Band, joined_bands
from casebank.domain.psychometrics.consistency import (
    alpha,
    alpha_if_deleted,
    conditional_error,
    kr20,
    kr21,
    lengthening,
    spearman_brown,
    standard_error_of_measurement,
)
from casebank.domain.psychometrics.disclosure import HiddenCells, hide_small, possible_range
from casebank.domain.psychometrics.estimate import Estimate, Status, hold_back, suppress
from casebank.domain.psychometrics.generalizability import (
    CasesNeeded,
    Decision,
    GStudy,
    cases_needed,
    decision_study,
    g_study,
)
from casebank.domain.psychometrics.intraclass import intraclass
from casebank.domain.psychometrics.items import discrimination, facility, upper_lower_27
from casebank.domain.psychometrics.order import Concordance, partial_order_concordance
from casebank.domain.psychometrics.proportion import newcombe, wilson
from casebank.domain.psychometrics.rank import kendall_tau
from casebank.domain.psychometrics.standard_setting import (
    BorderlineRegression,
    borderline_bootstrap,
    borderline_regression,
)

__all__ = [
    "Band",
    "BorderlineRegression",
    "CasesNeeded",
    "Concordance",
    "Decision",
    "Estimate",
    "GStudy",
    "HiddenCells",
    "Status",
    "alpha",
    "alpha_if_deleted",
    "borderline_bootstrap",
    "borderline_regression",
    "cases_needed",
    "conditional_error",
    "decision_study",
    "discrimination",
    "facility",
    "g_study",
    "hide_small",
    "hold_back",
    "intraclass",
    "joined_bands",
    "kappa",
    "kappa_from_table",
    "kendall_tau",
    "kr20",
    "kr21",
    "lengthening",
    "newcombe",
    "partial_order_concordance",
    "possible_range",
    "spearman_brown",
    "standard_error_of_measurement",
    "suppress",
    "upper_lower_27",
    "wilson",
]
