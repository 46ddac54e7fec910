"""The demo files, and the shorthand they are written in."""

import re
import tomllib
from pathlib import Path

from timber_stock import measure

FILES = Path(__file__).resolve().parents[3] / "fixtures" / "demo"


def read(name: str) -> dict:
    return tomllib.loads((FILES / f"{name}.toml").read_text(encoding="utf-8"))


def lengths(row: dict, *names: str) -> dict:
    """`{"sided": "2 1/2"}` as `{"sided_mm": 63.5}`, and as it was typed."""
    typed = {f"{name}_mm": row[name] for name in names if row.get(name)}
    millimetres = {name: measure.parse_length_mm(text) for name, text in typed.items()}
    return {**millimetres, "as_typed": typed}


def mm(text: str) -> float | None:
    return measure.parse_length_mm(text) if text else None


def marks(texts: list[str]) -> list[str]:
    """`["K1", "FR1P-FR3P"]` as K1, FR1P, FR2P, FR3P."""
    found = []
    for text in texts:
        run = re.fullmatch(r"([A-Z]+)(\d+)([PS]?)-\1(\d+)\3", text)
        if not run:
            found.append(text)
            continue
        letters, first, side, last = run.groups()
        found += [f"{letters}{n}{side}" for n in range(int(first), int(last) + 1)]
    return found


def flat(text: str) -> str:
    """Lines broken for the file's sake, put together again."""
    return " ".join(text.split())
