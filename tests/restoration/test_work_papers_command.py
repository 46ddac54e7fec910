"""The worker for long papers, as the demonstration starts it: it ends when what started it ends."""

import os
import subprocess
import sys
import time

import pytest
from django.conf import settings

pytestmark = pytest.mark.skipif(os.name == "nt", reason="needs processes that know their parent")


def is_there(pid: int) -> bool:
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    return True


def test_a_worker_ends_with_its_parent_however_that_ends(tmp_path):
    environment = {**os.environ, "HULL_LOG_DATA": str(tmp_path), "HULL_LOG_WORKER": "1"}
    environment.pop("DATABASE_URL", None)
    manage = [sys.executable, str(settings.BASE_DIR / "manage.py")]
    subprocess.run([*manage, "migrate", "-v0"], env=environment, check=True, timeout=120)
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
        time.sleep(4)
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
