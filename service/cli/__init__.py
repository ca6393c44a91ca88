"""The command line, `portwright`."""

import gc
import sys

_INTERRUPTED = 130


def main() -> None:
    """Run the command that the arguments name; an interruption is quiet from the first moment on."""
    try:
        gc.disable()  # what is imported stays: looking through it takes an eighth of the start
        from service.cli.app import app

        gc.freeze()
        gc.enable()
        app(prog_name="portwright")
    except KeyboardInterrupt:
        sys.exit(_INTERRUPTED)
