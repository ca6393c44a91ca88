"""The command line, `portwright`."""

import sys

_INTERRUPTED = 130


def main() -> None:
    """Run the command that the arguments name; an interruption is quiet from the first moment on."""
    try:
        from service.cli.app import app

        app(prog_name="portwright")
    except KeyboardInterrupt:
        sys.exit(_INTERRUPTED)
