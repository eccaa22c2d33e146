"""What materials are: data with sources, the loader, the vocabulary."""

from isogyre.catalogue.errors import CatalogueError, UnknownMaterialError
from isogyre.catalogue.load import Catalogue, load_catalogue

__all__ = [
    "Catalogue",
    "CatalogueError",
    "UnknownMaterialError",
    "load_catalogue",
]
