from .board import Board, MoistureReading, word_for
from .climate import Climate, ClimateMonth
from .cutting_list import CuttingItem, CuttingList
from .figures import WoodFigure, figures_of
from .log import Log, Measured
from .log_defect import Defect, LogDefect
from .log_paper import LogPaper, PaperKind
from .log_photograph import LogEndShown, LogPhotograph
from .log_reckoning import LogReckoning
from .plan_request import request_for
from .sawing import Sawing
from .sawing_plan import CutMade, PieceSawn, PlanSearch, PlanState, SawingPlan
from .service import OwnServiceMoisture, service_moistures
from .species import Species
from .supplier import Supplier

__all__ = [
    "Board",
    "Climate",
    "ClimateMonth",
    "CutMade",
    "CuttingItem",
    "CuttingList",
    "Defect",
    "Log",
    "LogDefect",
    "LogEndShown",
    "LogPaper",
    "LogPhotograph",
    "LogReckoning",
    "Measured",
    "MoistureReading",
    "OwnServiceMoisture",
    "PaperKind",
    "PieceSawn",
    "PlanSearch",
    "PlanState",
    "Sawing",
    "SawingPlan",
    "Species",
    "Supplier",
    "WoodFigure",
    "figures_of",
    "request_for",
    "service_moistures",
    "word_for",
]
