"""Run `python -m droner` as the command `droner`."""

from droner.cli.main import main

main()
