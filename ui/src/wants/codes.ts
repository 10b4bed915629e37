/** A byte as two hexadecimal digits. */
export const hexByte = (byte: number): string => byte.toString(16).toUpperCase().padStart(2, '0');

/** Hexadecimal digits in bytes: "07 41 1C". */
export const spaced = (digits: string): string => digits.replace(/..(?=.)/g, '$& ');
