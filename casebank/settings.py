"""All settings, from the environment; every variable is listed in DEVELOPERS.md."""

from __future__ import annotations

from pathlib import Path
from urllib.parse import urlsplit

import environ
from csp.constants import NONE, SELF

from casebank.core.logs import logging_config
from casebank.core.server.address import broker_conninfo, embedded_database, is_embedded

BASE_DIR = Path(__file__).resolve().parent.parent
env = environ.FileAwareEnv()
# What a site on one machine keeps: its database, its key, its logs.
VAR_DIR = Path(env.str("CASEBANK_VAR", default=str(BASE_DIR / "var"))).absolute()

# ---- where the site is -------------------------------------------------------------------------
DEBUG = env.bool("DEBUG", default=False)
SITE_URL = env.str("SITE_URL", default="http://localhost:8000")
_site = urlsplit(SITE_URL)
HTTPS = _site.scheme == "https"
SECRET_KEY = env.str("SECRET_KEY", default="")
if not SECRET_KEY:
    # A laptop's key: made once, kept beside the data, never in the tree.
    from casebank.core.secret import local_secret_key

    SECRET_KEY = local_secret_key(VAR_DIR)
ALLOWED_HOSTS = env.list("ALLOWED_HOSTS", default=[_site.hostname or "localhost", "127.0.0.1"])
CSRF_TRUSTED_ORIGINS = [f"{_site.scheme}://{_site.netloc}"]
SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = HTTPS
SESSION_COOKIE_AGE = 60 * 60 * 12
SECURE_CONTENT_TYPE_NOSNIFF = True
SECURE_REFERRER_POLICY = "same-origin"
X_FRAME_OPTIONS = "DENY"
if HTTPS:
    SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https")
    SECURE_HSTS_SECONDS = 60 * 60 * 24 * 30
    SECURE_SSL_REDIRECT = True
    # Machines beside the site ask these without a certificate.
    SECURE_REDIRECT_EXEMPT = [r"^livez$", r"^readyz$", r"^metrics$"]
# Whether a whole domain is bound to https is for its owner to say, not for one site on it.
SILENCED_SYSTEM_CHECKS = ["security.W005", "security.W021"]

# ---- what it is made of ------------------------------------------------------------------------
INSTALLED_APPS = [
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.contrib.humanize",  # the sign-in library's page of passkeys reads times with it
    "django.contrib.staticfiles",
    "django_htmx",
    "csp",
    "pgtrigger",
    "rest_framework",
    "drf_spectacular",
    "drf_spectacular_sidecar",
    "allauth",
    "allauth.account",
    "allauth.mfa",
    "casebank.core",
    "casebank.audit",
    "accounts",
    "casebank.cases",
    "casebank.reviews",
    "casebank.rehearsals",
    "casebank.encounters",
    "casebank.analytics",
    "casebank.demo",
]
MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "csp.middleware.CSPMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "allauth.account.middleware.AccountMiddleware",
    "accounts.kept.KeepTyped",
]
CSRF_FAILURE_VIEW = "accounts.kept.csrf_failed"
ROOT_URLCONF = "casebank.urls"
WSGI_APPLICATION = "casebank.wsgi.application"
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
                "accounts.navigation.navigation",
            ],
        },
    },
]

# ---- data --------------------------------------------------------------------------------------
DATABASES = {"default": embedded_database(VAR_DIR) if is_embedded() else env.db("DATABASE_URL")}
DATABASES["default"]["ENGINE"] = "django.db.backends.postgresql"
DATABASES["default"]["CONN_MAX_AGE"] = env.int("CONN_MAX_AGE", default=300)
DATABASES["default"]["CONN_HEALTH_CHECKS"] = True
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"
CACHES = {
    "default": {
        "BACKEND": "django.core.cache.backends.db.DatabaseCache",
        "LOCATION": "django_cache",
    },
}

# ---- background jobs ---------------------------------------------------------------------------
# PostgreSQL carries the messages too; CELERY_BROKER_URL takes RabbitMQ or Redis instead.
CELERY_BROKER_URL = env.str("CELERY_BROKER_URL", default="pgmq://database")
if CELERY_BROKER_URL.startswith("pgmq:"):
    CELERY_BROKER_TRANSPORT_OPTIONS = {
        # Always given: without it a DATABASE_URL in the environment is taken, and misread.
        "conn_string": broker_conninfo(DATABASES["default"]),
        "init_extension": False,
        "use_notify": True,
        "notify_throttle_interval_ms": 0,
        "wait_time_seconds": 0,
        "polling_interval": 1,
        "pool_size": 4,
        # Longer than the longest job; a killed worker's job is brought back by its row's heartbeat.
        "visibility_timeout": 3600,
    }
    # Replies need queue names longer than this transport allows.
    CELERY_WORKER_ENABLE_REMOTE_CONTROL = False
CELERY_TASK_TIME_LIMIT = 1800
CELERY_TASK_SOFT_TIME_LIMIT = 1740
CELERY_TASK_ACKS_LATE = True
CELERY_TASK_REJECT_ON_WORKER_LOST = True
CELERY_WORKER_PREFETCH_MULTIPLIER = 1
CELERY_TASK_IGNORE_RESULT = True
CELERY_TASK_DEFAULT_QUEUE = "casebank"
CELERY_TASK_SERIALIZER = "json"
CELERY_ACCEPT_CONTENT = ["json"]
CELERY_TIMEZONE = "UTC"
CELERY_BROKER_CONNECTION_RETRY_ON_STARTUP = True
# How often worker and beat show life; lost jobs are looked for at every second heartbeat.
CASEBANK_HEARTBEAT_SECONDS = env.float("HEARTBEAT_SECONDS", default=30.0)
# A running job whose row shows no life for this long has lost its worker.
CASEBANK_JOB_LOST_SECONDS = env.int("JOB_LOST_SECONDS", default=60)

# ---- people ------------------------------------------------------------------------------------
AUTH_USER_MODEL = "accounts.User"
AUTHENTICATION_BACKENDS = ["accounts.backend.AccountBackend"]
PASSWORD_HASHERS = [
    "django.contrib.auth.hashers.Argon2PasswordHasher",
    "django.contrib.auth.hashers.PBKDF2PasswordHasher",
]
AUTH_PASSWORD_VALIDATORS = [
    {
        "NAME": "django.contrib.auth.password_validation.MinimumLengthValidator",
        "OPTIONS": {"min_length": 10},
    },
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
]
LOGIN_URL = "account_login"
LOGIN_REDIRECT_URL = "home"
LOGOUT_REDIRECT_URL = "home"
ACCOUNT_ADAPTER = "accounts.adapter.ClosedSignupAdapter"
ACCOUNT_USER_MODEL_USERNAME_FIELD = None
ACCOUNT_LOGIN_METHODS = {"email"}
ACCOUNT_SIGNUP_FIELDS = ["email*", "password1*"]
ACCOUNT_EMAIL_VERIFICATION = "none"
ACCOUNT_SESSION_REMEMBER = False
# A lecture room is one address: limits count accounts, not addresses.
ACCOUNT_RATE_LIMITS = {
    "login": "600/m/ip",
    "login_failed": "5/5m/key",
    "reset_password": "5/m/key",
    "change_password": "5/m/user",
}
MFA_SUPPORTED_TYPES = ["totp", "recovery_codes", "webauthn"]
EMAIL_BACKEND = env.str("EMAIL_BACKEND", default="django.core.mail.backends.console.EmailBackend")
DEFAULT_FROM_EMAIL = env.str("DEFAULT_FROM_EMAIL", default="casebank@localhost")

# ---- words and time ----------------------------------------------------------------------------
LANGUAGE_CODE = "en-gb"
TIME_ZONE = env.str("TIME_ZONE", default="UTC")
USE_I18N = True
USE_TZ = True

# ---- files and headers -------------------------------------------------------------------------
STATIC_URL = "static/"
STATIC_ROOT = BASE_DIR / "staticfiles"
STATICFILES_DIRS = [BASE_DIR / "casebank" / "static"]
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {
        "BACKEND": env.str(
            "STATICFILES_BACKEND",
            default="django.contrib.staticfiles.storage.StaticFilesStorage",
        )
    },
}
# Without a collected folder (demo, tests) files are served from where they stand.
WHITENOISE_USE_FINDERS = True
WHITENOISE_AUTOREFRESH = DEBUG
DATA_UPLOAD_MAX_MEMORY_SIZE = 2_000_000
# The largest scheme a case may hold fits on one page of the editor.
DATA_UPLOAD_MAX_NUMBER_FIELDS = 5_000
CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": [NONE],
        "script-src": [SELF],
        "style-src": [SELF],
        "img-src": [SELF, "data:"],
        "font-src": [SELF],
        "media-src": [SELF, "blob:"],
        "connect-src": [SELF],
        "form-action": [SELF],
        "base-uri": [NONE],
        "frame-ancestors": [NONE],
    },
}

# ---- API ---------------------------------------------------------------------------------------
REST_FRAMEWORK = {
    "DEFAULT_AUTHENTICATION_CLASSES": [
        "accounts.api.TokenAuthentication",
        "rest_framework.authentication.SessionAuthentication",
    ],
    "DEFAULT_PERMISSION_CLASSES": ["rest_framework.permissions.IsAuthenticated"],
    "DEFAULT_RENDERER_CLASSES": ["rest_framework.renderers.JSONRenderer"],
    "DEFAULT_PARSER_CLASSES": ["rest_framework.parsers.JSONParser"],
    "DEFAULT_SCHEMA_CLASS": "drf_spectacular.openapi.AutoSchema",
    "EXCEPTION_HANDLER": "casebank.core.api.problems.problem_handler",
    "UNAUTHENTICATED_USER": "django.contrib.auth.models.AnonymousUser",
}
SPECTACULAR_SETTINGS = {
    "TITLE": "Casebank",
    "VERSION": "1",
    "OAS_VERSION": "3.1.0",
    "DESCRIPTION": (
        "For teaching. Fictional patients. Not for the care of any person; follow local guidance "
        "and the supervision of a licensed clinician."
    ),
    "SERVE_INCLUDE_SCHEMA": False,
    "SWAGGER_UI_DIST": "SIDECAR",
    "SWAGGER_UI_FAVICON_HREF": "SIDECAR",
}

# ---- what is heard and seen ---------------------------------------------------------------------
# Sounds and drawings can always be made again; they are kept up to this size.
MEDIA_SHELF = VAR_DIR / "media"
MEDIA_SHELF_BYTES = env.int("MEDIA_SHELF_MB", default=256) * 1_000_000

# ---- logs --------------------------------------------------------------------------------------
LOGGING = logging_config(env.str("LOG_LEVEL", default="WARNING"))

# ---- the teaching ------------------------------------------------------------------------------
SMALL_CELL_FLOOR = env.int("SMALL_CELL_FLOOR", default=10)
