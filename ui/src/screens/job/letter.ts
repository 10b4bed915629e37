/** a, b ... z, aa, ab: the step's letter in its stage. */
export function stepLetter(index: number): string {
  const last = String.fromCharCode(97 + (index % 26));
  return index < 26 ? last : stepLetter(Math.floor(index / 26) - 1) + last;
}
