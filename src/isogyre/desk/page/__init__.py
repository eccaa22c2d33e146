"""The pages as typed records: every figure worded, placed and ready to be shown."""

from isogyre.desk.page.kept import Draft, KeptPage, kept_page

__all__ = ["Draft", "KeptPage", "kept_page"]
