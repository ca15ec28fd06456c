"""A section solved at a stated fineness."""
import numpy

from flow import Field
from ground import Ground
from mesh import Mesh

# Halvings of the triangles, degree, how small the smallest triangles become, reach of endless soil.
QUICK = (1, 6, 1e-8, 1.0)
COARSE = (1, 8, 1e-10, 1.0)
FINE = (1, 10, 1e-13, 1.3)


class Solved:
    def __init__(self, section, fineness, depth=None):
        halvings, degree, least, reach = fineness
        self.ground = Ground(section, reach, depth)
        self.mesh = Mesh(self.ground, halvings, least)
        self.head = Field(self.mesh, degree)
        kinds = {kind for *_, kind in self.ground.edges}
        self.stream = Field(self.mesh, degree, True) if "wall_free" not in kinds else None

    def bounds(self):
        """Of flow for a head difference of one."""
        return (1 / self.stream.energy if self.stream else None), self.head.energy

    def flow(self):
        lower, upper = self.bounds()
        return numpy.sqrt(lower * upper) if lower else upper


def size_of(section):
    """A length for the depth at which soil without bottom is cut."""
    places = [wall["tip"] for wall in section.get("walls", [])]
    places += [x for x, _ in section.get("structure", {}).get("underside", [])]
    for bed in section["bed"].values():
        if isinstance(bed, list):
            places += [x for x, _ in bed]
    return max(map(abs, places))
