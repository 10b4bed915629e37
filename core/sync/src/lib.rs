//! What two stores say to each other.
