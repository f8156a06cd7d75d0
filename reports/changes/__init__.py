"""The section "Before and after": each change of rig that lasted, beside days without one."""
