/** The small library that every drawing is made of. Nobody's gearbox: what all of them have. */
export * from './bay';
export * from './gearbox';
