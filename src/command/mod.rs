//! Files, terminal and exit status: the only code that touches the world.
