"""The two commands: what goes wrong gets one clear sentence that says what to do."""

import builtins
import importlib.util
import socket
from pathlib import Path

import pytest
from django.core.management.base import CommandError

from restoration.management.commands.demo import Command

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture
def manage(tmp_path, monkeypatch):
    """manage.py as a module, with its .venv in an empty folder."""
    spec = importlib.util.spec_from_file_location("manage_under_test", ROOT / "manage.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    monkeypatch.setattr(module, "VENV", tmp_path / ".venv")
    monkeypatch.setattr(module, "PYTHON", tmp_path / ".venv" / "bin" / "python")
    return module


def test_a_missing_venv_module_is_said_with_what_to_install(manage, monkeypatch):
    real = builtins.__import__

    def without(name, *args, **kwargs):
        if name == "ensurepip":
            raise ImportError(name)
        return real(name, *args, **kwargs)

    monkeypatch.setattr(builtins, "__import__", without)
    with pytest.raises(SystemExit, match="python3-venv"):
        manage.bootstrap(["demo"])


def test_no_permission_to_write_is_said_with_what_to_do(manage, monkeypatch):
    def refuse():
        raise PermissionError(13, "Permission denied", str(manage.VENV))

    monkeypatch.setattr(manage, "make_venv", refuse)
    with pytest.raises(SystemExit, match="folder of your own"):
        manage.bootstrap(["demo"])


def test_an_old_python_is_named(manage, monkeypatch):
    monkeypatch.setattr(manage.sys, "version_info", (3, 9, 2))
    with pytest.raises(SystemExit, match=r"3\.11 or newer is needed; this is 3\.9"):
        manage.main()


def test_packages_are_installed_once_and_again_only_when_the_list_changes(manage, monkeypatch):
    manage.VENV.mkdir()
    calls = []
    monkeypatch.setattr(manage.subprocess, "call", lambda command: calls.append(command) or 0)
    stamp = manage.VENV / "site.stamp"
    manage.install(["django>=5.2"], stamp)
    manage.install(["django>=5.2"], stamp)
    manage.install(["django>=5.2", "pillow"], stamp)
    assert [command[-1] for command in calls] == ["django>=5.2", "pillow"]


def test_packages_that_could_not_be_installed_are_not_taken_for_installed(manage, monkeypatch):
    manage.VENV.mkdir()
    monkeypatch.setattr(manage.subprocess, "call", lambda command: 1)
    with pytest.raises(SystemExit, match="could not be installed"):
        manage.install(["django>=5.2"], manage.VENV / "site.stamp")
    assert not (manage.VENV / "site.stamp").exists()


def test_a_taken_port_is_named_with_another_to_try():
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        with pytest.raises(CommandError, match=f"port {port} cannot be used.*--port {port + 1}"):
            Command().refuse_taken(port)


def test_a_folder_that_cannot_be_written_is_named(settings, tmp_path):
    (tmp_path / "file").write_text("in the way")
    settings.DATA_DIR = tmp_path / "file"
    with pytest.raises(CommandError, match="no permission to write in"):
        Command().prepare(fresh=False)
