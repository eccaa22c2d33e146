"""From bench readings of a gemstone to an identification one can defend."""

__version__ = "0.1.0"
