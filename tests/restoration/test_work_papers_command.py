"""The worker for long papers, as the demonstration starts it: it ends when what started it ends."""

import os
import sqlite3
import subprocess
import sys
import time
from contextlib import closing
from uuid import UUID

import pytest
from django.conf import settings

pytestmark = pytest.mark.skipif(os.name == "nt", reason="needs processes that know their parent")


def is_there(pid: int) -> bool:
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    return True


HANDED_OVER = "from restoration.actions.paper_jobs import carry_job; print(carry_job.enqueue(0).id)"


def wait_until_carried(database, task: str) -> None:
    """A worker that has carried a task through to its end is up, with its watch on its parent."""
    row = "SELECT status FROM django_tasks_database_dbtaskresult WHERE id = ?"
    with closing(sqlite3.connect(database, timeout=30)) as register:
        for _ in range(600):
            (status,) = register.execute(row, [UUID(task).hex]).fetchone()
            if status == "SUCCESSFUL":
                return
            time.sleep(0.2)
    raise AssertionError(f"The worker has not carried its task: {status}")


def test_a_worker_ends_with_its_parent_however_that_ends(tmp_path):
    environment = {**os.environ, "HULL_LOG_DATA": str(tmp_path), "HULL_LOG_WORKER": "1"}
    environment.pop("DATABASE_URL", None)
    manage = [sys.executable, str(settings.BASE_DIR / "manage.py")]
    subprocess.run([*manage, "migrate", "-v0"], env=environment, check=True, timeout=120)
    handed = subprocess.run(
        [*manage, "shell", "-v0", "-c", HANDED_OVER],
        env=environment, check=True, timeout=120, capture_output=True, text=True,
    )  # fmt: skip
    starts = (
        "import os, subprocess, sys, time\n"
        "ours = ['work_papers', '--with-parent', str(os.getpid())]\n"
        "worker = subprocess.Popen([*sys.argv[1:], *ours])\n"
        "print(worker.pid, flush=True)\n"
        "time.sleep(100)\n"
    )
    parent = subprocess.Popen(
        [sys.executable, "-c", starts, *manage], env=environment, stdout=subprocess.PIPE, text=True
    )
    worker = int(parent.stdout.readline())
    try:
        wait_until_carried(tmp_path / "register.sqlite3", handed.stdout.strip())
        assert is_there(worker)
        parent.kill()
        parent.wait()
        for _ in range(600):
            if not is_there(worker):
                break
            time.sleep(0.2)
        assert not is_there(worker)
    finally:
        parent.kill()
        if is_there(worker):
            os.kill(worker, 9)
