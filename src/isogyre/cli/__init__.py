"""The command line: one file a command. Data on standard output, talk on standard error."""

from isogyre.cli.line import main

__all__ = ["main"]
