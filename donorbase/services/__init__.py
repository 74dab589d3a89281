"""One file per thing a user does; the only place that commits."""
