"""The pages: an edge that asks the desk and shows its records."""

from isogyre.web.app import create_app

__all__ = ["create_app"]
