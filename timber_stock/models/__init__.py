from .board import Board, MoistureReading
from .climate import Climate, ClimateMonth
from .figures import WoodFigure, figures_of
from .log import Log
from .sawing import Sawing
from .service import OwnServiceMoisture, service_moistures
from .species import Species
from .supplier import Supplier

__all__ = [
    "Board",
    "Climate",
    "ClimateMonth",
    "Log",
    "MoistureReading",
    "OwnServiceMoisture",
    "Sawing",
    "Species",
    "Supplier",
    "WoodFigure",
    "figures_of",
    "service_moistures",
]
