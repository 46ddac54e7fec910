import os
import shutil
import socket
import subprocess
import sys

from django.conf import settings
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError

from restoration.models import User


class Command(BaseCommand):
    help = "Shows the register with a yard of invented vessels, people and timber."
    requires_migrations_checks = False

    def add_arguments(self, parser):
        parser.add_argument("--port", type=int, default=8000, help="where to serve (8000)")
        parser.add_argument("--fresh", action="store_true", help="throw away what was entered")

    def handle(self, *args, **options):
        if not settings.DEMO:
            sys.exit(self.in_demo(options))
        port = options["port"]
        self.refuse_taken(port)
        self.prepare(fresh=options["fresh"], port=port)
        self.stdout.write(
            f"\nHull & Log, the demonstration yard, is at http://127.0.0.1:{port}/\n"
            "Sign in as yard, surveyor or client, each with the password demo-only.\n"
            "Stop it with Control-C; what you enter is kept (--fresh starts over).\n"
        )
        self.stdout.flush()  # also where the output goes to a file
        worker = self.start_worker()
        try:
            call_command(
                "runserver", f"127.0.0.1:{port}", use_reloader=False, use_static_handler=False
            )
        finally:
            worker and worker.terminate()

    def start_worker(self) -> subprocess.Popen | None:
        """Its own worker for long papers, which ends when the demonstration does."""
        if not settings.WORKER:
            return None
        command = [sys.executable, str(settings.BASE_DIR / "manage.py"), "work_papers"]
        return subprocess.Popen([*command, "--with-parent", str(os.getpid())])

    def in_demo(self, options) -> int:
        """The demo has a database of its own, so that no yard's records are ever touched."""
        data = settings.BASE_DIR / ".data" / "demo"
        environment = {**os.environ, "HULL_LOG_DEMO": "1", "HULL_LOG_DATA": str(data)}
        environment["HULL_LOG_WORKER"] = "1"
        for name in ("DATABASE_URL", "HULL_LOG_MEDIA", "HULL_LOG_HTTPS"):
            environment.pop(name, None)
        command = [sys.executable, str(settings.BASE_DIR / "manage.py"), "demo"]
        command += ["--port", str(options["port"])] + (["--fresh"] if options["fresh"] else [])
        if os.name != "nt":
            os.execve(command[0], command, environment)  # one process: who stops it stops all
        try:
            return subprocess.call(command, env=environment)
        except KeyboardInterrupt:
            return 0

    def refuse_taken(self, port: int) -> None:
        if not 1 <= port <= 65535:
            raise CommandError(f"{port} is no port: choose one from 1 to 65535, such as 8000.")
        with socket.socket() as probe:
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, os.name != "nt")
            try:
                probe.bind(("127.0.0.1", port))
            except OSError as error:
                raise CommandError(
                    f"port {port} cannot be used ({error.strerror}). "
                    f"Choose another: python3 manage.py demo --port {min(port + 1, 65535)}"
                ) from error

    def prepare(self, *, fresh: bool, port: int = 8000) -> None:
        data = settings.DATA_DIR
        try:
            if fresh:
                shutil.rmtree(data, ignore_errors=True)
            for folder in (data / "media", settings.STATIC_ROOT):
                folder.mkdir(parents=True, exist_ok=True)
            (data / "can_write").write_text("yes")
        except OSError as error:
            raise CommandError(
                f"no permission to write in {data}. Move the project to a folder of your own, "
                "or give yourself write permission, and run again."
            ) from error
        call_command("migrate", verbosity=0)
        if not User.objects.exists():
            self.stdout.write("Loading the demonstration yard ...")
            call_command("load_reference", verbosity=0)
            call_command("load_demo", site=f"http://127.0.0.1:{port}")
