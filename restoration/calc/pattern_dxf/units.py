"""The units a DXF drawing may be in, by the numbers its header uses ($INSUNITS)."""

from timber_stock.measure import mm_from_inches

MM_PER_UNIT = {
    "mm": 1.0,
    "cm": 10.0,
    "dm": 100.0,
    "m": 1000.0,
    "in": mm_from_inches(1),
    "ft": mm_from_inches(12),
    "yd": mm_from_inches(36),
}
UNIT_WORDS = {
    "mm": "millimetres",
    "cm": "centimetres",
    "dm": "decimetres",
    "m": "metres",
    "in": "inches",
    "ft": "feet",
    "yd": "yards",
}
BY_HEADER = {1: "in", 2: "ft", 4: "mm", 5: "cm", 6: "m", 10: "yd", 14: "dm"}
"""What $INSUNITS says, by the DXF reference. Any other number is asked about, as 0 (none) is."""
MILLIMETRES = 4
