//! Units, uncertainty, spec decisions, electrical, torque, fluid, codes, VIN. Pure.
