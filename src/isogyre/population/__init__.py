"""Virtual stones drawn from the catalogue, kept as arrays."""

from isogyre.population.population import Label, Population, build_population

__all__ = ["Label", "Population", "build_population"]
