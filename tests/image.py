"""Within what the image would have, run by `.ci/image`: serve by its command, look by its health check, ask."""

import json
import os
import signal
import subprocess
import sys
import time
from http.client import HTTPConnection
from pathlib import Path

PATIENCE_S = 120
LOOPBACK = "127.0.0.1"


def status(address: str, path: str, key: str | None = None) -> int:
    """What is answered to who asks for a path at this address, by the name that a published port has."""
    connection = HTTPConnection(address, 8000, timeout=PATIENCE_S)
    shown = {"Authorization": f"Bearer {key}"} if key else {}
    connection.request("GET", path, headers={"Host": f"{LOOPBACK}:8000"} | shown)
    return connection.getresponse().status


def expect(what: str, found: object, expected: object) -> None:
    """Tell what was found; end where it is something else."""
    print(f"{what}: {found}")
    if found != expected:
        sys.exit(f"{what}: found {found}, expected {expected}")


def main(folder: Path, outer: str) -> None:
    """Serve, look and ask. `folder`: where the steps before left what they made; `outer`: an address for others."""
    expect("user", os.getuid(), 10001)
    expect("may write elsewhere", any(os.access(one, os.W_OK) for one in (folder, folder.parent)), False)
    entry, serve = (json.loads(line) for line in (folder / "command.json").read_text().splitlines())
    health = json.loads((folder / "health.json").read_text())

    def portwright(*arguments: str) -> str:
        return subprocess.run([*entry, *arguments], check=True, stdout=subprocess.PIPE, text=True).stdout.strip()

    portwright("catalog", "import", str(folder / "source" / "seed_data"))
    key = portwright("key", "new", "--role", "ask", "--account", "image")
    with subprocess.Popen([*entry, *serve]) as server:
        try:
            until = time.monotonic() + PATIENCE_S
            while subprocess.run(health, check=False, stderr=subprocess.DEVNULL).returncode:
                if server.poll() is not None or time.monotonic() > until:
                    sys.exit("the health check never found it well")
                time.sleep(0.5)
            expect("items without a key", status(outer, "/v1/items"), 401)
            expect("items without a key, from within", status(LOOPBACK, "/v1/items"), 200)
            expect("items with a key", status(outer, "/v1/items", key), 200)
            expect("drafts with a key that asks", status(outer, "/v1/drafts", key), 403)
            server.terminate()
            expect("it stops as it is told", server.wait(PATIENCE_S) in (0, -signal.SIGTERM), True)
        finally:
            server.kill()


if __name__ == "__main__":
    main(Path(sys.argv[1]), sys.argv[2])
