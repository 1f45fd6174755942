"""What a library says, as frozen values that know their places. No behaviour beyond looking things up."""
