"""A bottom trawl from above and from below, its parts shaded by how often they tear."""
