from .board import Board, MoistureReading
from .log import Log
from .sawing import Sawing
from .species import Species
from .supplier import Supplier

__all__ = ["Board", "Log", "MoistureReading", "Sawing", "Species", "Supplier"]
