"""Read a figure again: what stands where on its sheet."""

from xml.etree import ElementTree

NAMESPACE = "{http://www.w3.org/2000/svg}"


def parts(drawn, name):
    """Return all elements of a name, in the order in which they are painted."""
    return list(ElementTree.fromstring(drawn).iter(f"{NAMESPACE}{name}"))


def box(rect):
    """Return left, top, width and height of a rectangle."""
    return tuple(float(rect.get(side)) for side in ("x", "y", "width", "height"))


def words(drawn):
    """Return every line of text, top to bottom as written."""
    return ["".join(text.itertext()) for text in parts(drawn, "text")]


def described(drawn):
    """Return the description."""
    return parts(drawn, "desc")[0].text


def points(path):
    """Return the points of a path of straight lines."""
    data = path.get("d").removeprefix("M").removesuffix("Z")
    return [tuple(map(float, point.split())) for point in data.split("L")]
