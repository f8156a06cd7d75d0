"""What a rig weighs in air and in sea water, part by part."""
