"""From bench readings of a gemstone to an identification one can defend."""

from isogyre.library import Record, identify

__all__ = ["Record", "__version__", "identify"]

__version__ = "0.1.0"
