"""Running `portwright`, within this process or as the installed command."""

import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from typer.testing import CliRunner, Result

from service.cli.app import app

PORTWRIGHT = str(Path(sys.executable).with_name("portwright"))
PATIENCE_S = 60


def run(*arguments: str | Path) -> Result:
    """Run a command within this process."""
    return CliRunner().invoke(app, [str(argument) for argument in arguments], prog_name="portwright")


def installed(*arguments: str | Path) -> subprocess.CompletedProcess[str]:
    """Run the installed command with the environment of the test."""
    command = [PORTWRIGHT, *map(str, arguments)]
    return subprocess.run(command, capture_output=True, text=True, timeout=PATIENCE_S, check=False)


@contextmanager
def started(*arguments: str | Path) -> Iterator[subprocess.Popen[str]]:
    """Start the installed command with both its outputs in one pipe, and end it whatever happens."""
    command = [PORTWRIGHT, *map(str, arguments)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True) as process:
        try:
            yield process
        finally:
            process.kill()
