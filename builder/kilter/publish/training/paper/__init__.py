"""Training material on paper: hand-out, slides, session plan, sign-off sheets, scenarios, written papers."""
