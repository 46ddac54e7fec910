"""The compiled search, when this machine has a C compiler; the plain one serves where it has not.

The source lies in `kernel_c`. It is compiled once, into the folder where Python keeps its own
compiled files, and again whenever the source changes. Nothing else depends on it: without it every
plan for the same steps and seed is the same, only slower.
"""

from __future__ import annotations

import ctypes
import hashlib
import os
import platform
import shutil
import subprocess
import tempfile
from functools import cache
from pathlib import Path

FOLDER = Path(__file__).with_name("kernel_c")
SOURCE = FOLDER / "kernel.c"
FLAGS = ("-O2", "-ffp-contract=off", "-shared", "-fPIC")
COMPILE_S = 60

DOUBLES = ctypes.POINTER(ctypes.c_double)
INTS = ctypes.POINTER(ctypes.c_int)


@cache
def library() -> ctypes.CDLL | None:
    """The compiled kernel, or None where there is no compiler or HULL_LOG_PLAIN is set."""
    if os.environ.get("HULL_LOG_PLAIN") == "1":
        return None
    built = _built()
    if built is None:
        return None
    try:
        found = ctypes.CDLL(str(built))
    except OSError:
        return None
    _declare(found)
    return found


def _built() -> Path | None:
    compiler = shutil.which("cc") or shutil.which("gcc") or shutil.which("clang")
    target = FOLDER.parent / "__pycache__" / f"kernel-{_mark()}.so"
    if target.exists():
        return target
    if compiler is None:
        return None
    try:
        target.parent.mkdir(exist_ok=True)
        with tempfile.TemporaryDirectory(dir=target.parent) as folder:
            made = Path(folder) / target.name
            command = [compiler, *FLAGS, "-o", str(made), str(SOURCE), "-lm"]
            subprocess.run(command, check=True, capture_output=True, timeout=COMPILE_S)
            made.replace(target)
    except (OSError, subprocess.SubprocessError):
        return None
    return target


def _mark() -> str:
    """Changes with the source, the flags and the kind of machine."""
    parts = [path.read_bytes() for path in sorted(FOLDER.glob("*.[ch]"))]
    parts += [" ".join(FLAGS).encode(), platform.machine().encode()]
    return hashlib.sha256(b"\0".join(parts)).hexdigest()[:16]


def _declare(found: ctypes.CDLL) -> None:
    number, whole, job = ctypes.c_double, ctypes.c_int, ctypes.c_void_p
    found.job_new.restype = job
    found.job_new.argtypes = [
        *(DOUBLES, DOUBLES, whole, DOUBLES, whole),
        *(DOUBLES, INTS, DOUBLES, whole, number, whole, whole),
    ]
    found.job_begin.restype = None
    found.job_begin.argtypes = [job, ctypes.c_uint64, whole, DOUBLES, INTS, whole, INTS, DOUBLES]
    found.job_run.restype = number
    found.job_run.argtypes = [job, number, number, number]
    found.job_best.restype = whole
    found.job_best.argtypes = [job, DOUBLES, INTS, DOUBLES, whole]
    found.job_free.restype = None
    found.job_free.argtypes = [job]
