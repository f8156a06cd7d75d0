"""Where the net was shot and where it tore, on an outline of land that needs no network."""
