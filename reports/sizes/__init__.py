"""Which sizes each rig loses: said, drawn, and in numbers."""
