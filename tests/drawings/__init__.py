"""Line drawings of the demo library, drawn by script so that item anchors are computed, never guessed."""
