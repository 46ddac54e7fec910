#!/usr/bin/env python3
"""Sets up the project's own Python in `.venv` when it must, then hands over to Django.

`python3 manage.py demo` and `python3 manage.py test` need nothing but Python 3.11 or newer.
"""

import hashlib
import os
import subprocess
import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent
VENV = HERE / ".venv"
PYTHON = VENV / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def stop(sentence):
    sys.exit(f"manage.py: {sentence}")


def wanted_packages(with_tools):
    """The names in pyproject.toml: what the site needs and, for the tests, the tools too."""
    import tomllib

    project = tomllib.loads((HERE / "pyproject.toml").read_text(encoding="utf-8"))
    tools = project["dependency-groups"]["dev"] if with_tools else []
    return project["project"]["dependencies"] + tools


def make_venv():
    try:
        import ensurepip  # noqa: F401
        import venv
    except ImportError:
        stop(
            "this Python has no venv module. Install it (on Debian or Ubuntu: "
            "'sudo apt install python3-venv') and run the same command again."
        )
    print("Making .venv ...", flush=True)
    venv.create(VENV, with_pip=True, clear=VENV.exists())


def install(packages, stamp_file):
    """Install when pyproject.toml asks for something else than was last installed."""
    stamp = hashlib.sha256("\n".join(packages).encode()).hexdigest()
    if stamp_file.exists() and stamp_file.read_text() == stamp:
        return
    print(f"Installing {len(packages)} packages and what they need ...", flush=True)
    pip = [str(PYTHON), "-m", "pip", "install", "--quiet", "--disable-pip-version-check"]
    if subprocess.call([*pip, *packages]):
        stop("the packages could not be installed; pip says why above. Mend that and run again.")
    stamp_file.write_text(stamp)


def bootstrap(arguments):
    """Run the same command with .venv's Python, and answer with its exit code."""
    with_tools = arguments[:1] == ["test"] or os.environ.get("HULL_LOG_TOOLS") == "1"
    try:
        if not PYTHON.exists():
            make_venv()
        install(wanted_packages(with_tools), VENV / ("tools.stamp" if with_tools else "site.stamp"))
    except PermissionError as error:
        stop(
            f"no permission to write {error.filename or HERE}. Move the project to a folder "
            "of your own, or give yourself write permission, and run again."
        )
    except OSError as error:
        stop(f"setting up .venv failed: {error}. Free some space or mend that, and run again.")
    command = [str(PYTHON), str(HERE / "manage.py"), *arguments]
    if os.name != "nt":
        os.execv(command[0], command)  # one process: who stops it stops the server too
    try:
        return subprocess.call(command)
    except KeyboardInterrupt:
        return 0


def main():
    if sys.version_info < (3, 11):  # noqa: UP036  this very line must run on older ones
        stop("Python 3.11 or newer is needed; this is {}.{}.".format(*sys.version_info[:2]))
    if Path(sys.prefix).resolve() != VENV.resolve():
        sys.exit(bootstrap(sys.argv[1:]))
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "restoration.config.settings")
    from django.core.management import execute_from_command_line

    execute_from_command_line(sys.argv)


if __name__ == "__main__":
    main()
