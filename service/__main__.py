"""`python -m service`: the same as the command `portwright`."""

from service.cli import main

main()
