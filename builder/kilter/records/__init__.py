"""Records of runs and remarks, as they come back from phones."""
