FROM python:3.13-slim AS build
WORKDIR /source
RUN pip install --no-cache-dir uv==0.13.9
COPY pyproject.toml uv.lock README.md ./
COPY service ./service
COPY seed_data ./seed_data
ENV UV_PROJECT_ENVIRONMENT=/opt/portwright UV_PYTHON_DOWNLOADS=never UV_COMPILE_BYTECODE=1
RUN uv sync --locked --no-editable --no-cache --extra postgres

FROM python:3.13-slim
RUN useradd --uid 10001 --no-create-home --home-dir /data --shell /usr/sbin/nologin portwright \
    && install --directory --owner=portwright --group=portwright --mode=0700 /data
COPY --from=build /opt/portwright /opt/portwright
ENV PATH=/opt/portwright/bin:$PATH \
    PYTHONUNBUFFERED=1 \
    PORTWRIGHT_DATABASE_URL=sqlite:////data/portwright.sqlite3
USER portwright
WORKDIR /data
VOLUME /data
EXPOSE 8000
HEALTHCHECK --interval=10s --timeout=3s --start-period=20s --retries=3 \
    CMD ["python", "-c", "import httpx; httpx.get('http://127.0.0.1:8000/v1/health/live').raise_for_status()"]
ENTRYPOINT ["portwright"]
CMD ["serve", "--host", "0.0.0.0", "--open-to-network"]
