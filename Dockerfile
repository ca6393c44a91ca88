# docker build -t portwright .                          questions, orders, sheets as pages
# docker build --build-arg PDF=1 -t portwright:pdf .    and sheets as PDF, with Pango and a font

FROM python:3.13-slim AS build
ARG PDF=
WORKDIR /source
RUN pip install --no-cache-dir uv==0.13.9
COPY pyproject.toml uv.lock README.md ./
COPY service ./service
COPY seed_data ./seed_data
ENV UV_PROJECT_ENVIRONMENT=/opt/portwright UV_PYTHON_DOWNLOADS=never UV_COMPILE_BYTECODE=1
RUN uv sync --locked --no-editable --no-cache --extra postgres ${PDF:+--extra pdf}

FROM python:3.13-slim
ARG PDF=
RUN if [ -n "$PDF" ]; then \
        apt-get update \
        && apt-get install --yes --no-install-recommends \
            libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0 fonts-liberation \
        && rm -rf /var/lib/apt/lists/*; \
    fi
RUN useradd --uid 10001 --no-create-home --home-dir /data --shell /usr/sbin/nologin portwright \
    && install --directory --owner=portwright --group=portwright --mode=0700 /data
COPY --from=build /opt/portwright /opt/portwright
ENV PATH=/opt/portwright/bin:$PATH \
    PYTHONUNBUFFERED=1 \
    PYTHONDONTWRITEBYTECODE=1 \
    PORTWRIGHT_DATABASE_URL=sqlite:////data/portwright.sqlite3
USER portwright
WORKDIR /data
# All that is written: the database here, and what the processes share in /tmp. The rest may be read-only:
# docker run --read-only --tmpfs /tmp -v portwright:/data -p 127.0.0.1:8000:8000 portwright
VOLUME /data
EXPOSE 8000
HEALTHCHECK --interval=10s --timeout=3s --start-period=20s --retries=3 \
    CMD ["python", "-c", "from http.client import HTTPConnection as C; c = C('127.0.0.1', 8000, timeout=2); c.request('GET', '/v1/health/live'); raise SystemExit(c.getresponse().status != 200)"]
ENTRYPOINT ["portwright"]
CMD ["serve", "--host", "0.0.0.0", "--open-to-network"]
