# The site without its database: web, worker and beat run from this one image.
FROM python:3.11-slim-bookworm

ENV PYTHONUNBUFFERED=1 PYTHONDONTWRITEBYTECODE=1 CASEBANK_VAR=/tmp/casebank
WORKDIR /srv/casebank
COPY requirements.txt .
RUN pip install --no-cache-dir --require-hashes --only-binary :all: -r requirements.txt
COPY manage.py ./
COPY accounts accounts
COPY casebank casebank
COPY fixtures fixtures
COPY templates templates
RUN useradd --system --no-create-home --shell /usr/sbin/nologin app
USER app
EXPOSE 8000
CMD ["gunicorn", "casebank.wsgi:application", "--bind", "0.0.0.0:8000", "--worker-class", "gthread", \
     "--workers", "2", "--threads", "3", "--preload", "--no-control-socket", "--access-logfile", "-"]
