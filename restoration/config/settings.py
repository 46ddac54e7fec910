"""Settings. Everything a yard may want to change comes from the environment; see README.md."""

import os
from pathlib import Path

import dj_database_url
from django.core.management.utils import get_random_secret_key

BASE_DIR = Path(__file__).resolve().parent.parent.parent
# What people enter lives here and nowhere else: database, photographs, issued reports.
DATA_DIR = Path(os.environ.get("HULL_LOG_DATA", BASE_DIR / ".data" / "yard"))
DEMO = os.environ.get("HULL_LOG_DEMO") == "1"
DEBUG = os.environ.get("HULL_LOG_DEBUG") == "1"


def secret_key() -> str:
    """The key from the environment or, on one machine, a key made once and kept beside the data."""
    if key := os.environ.get("SECRET_KEY"):
        return key
    kept = DATA_DIR / "secret_key"
    try:
        if not kept.exists():
            kept.parent.mkdir(parents=True, exist_ok=True)
            kept.write_text(get_random_secret_key())
            kept.chmod(0o600)
        return kept.read_text()
    except OSError as error:
        raise SystemExit(
            f"No permission to write in {kept.parent} ({error.strerror}). Move the project to a "
            "folder of your own, give yourself write permission there, or name another folder in "
            "HULL_LOG_DATA, and run again."
        ) from error


SECRET_KEY = secret_key()
ALLOWED_HOSTS = os.environ.get("ALLOWED_HOSTS", "localhost,127.0.0.1,[::1]").split(",")
CSRF_TRUSTED_ORIGINS = [o for o in os.environ.get("CSRF_TRUSTED_ORIGINS", "").split(",") if o]

INSTALLED_APPS = [
    "restoration",
    "timber_stock",
    "django.contrib.admin",
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.contrib.staticfiles",
    "django_htmx",
    "django_tasks",
    "django_tasks_db",
]
MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.auth.middleware.LoginRequiredMiddleware",
    "restoration.access.AccessMiddleware",
    "restoration.config.yard.YardMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "restoration.config.headers.ContentPolicyMiddleware",
    "restoration.config.headers.PrivatePagesMiddleware",
    "restoration.config.readable.ReadableAddressMiddleware",
    "restoration.config.meanwhile.MeanwhileMiddleware",
]
ROOT_URLCONF = "restoration.config.urls"
WSGI_APPLICATION = "restoration.config.wsgi.application"
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [BASE_DIR / "templates"],
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "restoration.config.context.yard_and_units",
            ],
            "builtins": [
                "timber_stock.templatetags.measures",
                "timber_stock.templatetags.free_lengths",
            ],
        },
    }
]

DATABASES = {
    "default": dj_database_url.config(
        default=f"sqlite:///{DATA_DIR / 'register.sqlite3'}", conn_max_age=60
    )
}
if DATABASES["default"]["ENGINE"] == "django.db.backends.sqlite3":
    # A writer waits for the other writer instead of failing, and a reader never waits:
    # IMMEDIATE takes the write lock at the start, so what was read is still true when written.
    DATABASES["default"]["CONN_MAX_AGE"] = 0
    DATABASES["default"]["OPTIONS"] = {
        "transaction_mode": "IMMEDIATE",
        "timeout": 20,
        "init_command": "PRAGMA journal_mode=WAL;PRAGMA synchronous=NORMAL;PRAGMA foreign_keys=ON;",
    }
    # A file, not memory: tests with several threads then meet the real locks.
    DATABASES["default"]["TEST"] = {"NAME": str(DATA_DIR / "test.sqlite3")}

AUTH_USER_MODEL = "restoration.User"
LOGIN_URL = "sign_in"
LOGIN_REDIRECT_URL = "restoration:home"
LOGOUT_REDIRECT_URL = "sign_in"
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": f"django.contrib.auth.password_validation.{name}"}
    for name in (
        "UserAttributeSimilarityValidator",
        "MinimumLengthValidator",
        "CommonPasswordValidator",
        "NumericPasswordValidator",
    )
]

LANGUAGE_CODE = "en-gb"
TIME_ZONE = os.environ.get("TIME_ZONE", "UTC")
USE_I18N = True
# Nothing is translated; what a refused form says is put in plain words there, in one place.
LOCALE_PATHS = [BASE_DIR / "restoration" / "config" / "locale"]
USE_TZ = True

STATIC_URL = "static/"
STATICFILES_DIRS = [BASE_DIR / "static"]
STATIC_ROOT = DATA_DIR / "static"
WHITENOISE_USE_FINDERS = True
MEDIA_ROOT = Path(os.environ.get("HULL_LOG_MEDIA", DATA_DIR / "media"))
MEDIA_URL = "/nowhere/"  # photographs and reports go out through views that check who asks

# Long papers are drawn by a worker (`manage.py work_papers`) where one is said to run, else in
# place.
WORKER = os.environ.get("HULL_LOG_WORKER") == "1"
TASKS = {
    "default": {
        "BACKEND": "django_tasks_db.DatabaseBackend"
        if WORKER
        else "django_tasks.backends.immediate.ImmediateBackend",
    }
}

DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"
DATA_UPLOAD_MAX_NUMBER_FIELDS = 5000
DATA_UPLOAD_MAX_MEMORY_SIZE = 5 * 1024 * 1024

SESSION_COOKIE_HTTPONLY = True
if os.environ.get("HULL_LOG_HTTPS") == "1":
    SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https")
    SECURE_SSL_REDIRECT = True
    SECURE_REDIRECT_EXEMPT = [r"^health/$"]
    SESSION_COOKIE_SECURE = True
    CSRF_COOKIE_SECURE = True
    SECURE_HSTS_SECONDS = 31_536_000
