//! The shop's server, and the swarfbook command.
