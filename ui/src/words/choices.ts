/** Choices as rows of keys: each by its id, with what it is called. */
export const keys = <T extends string>(pairs: Record<T, string>) =>
  (Object.entries(pairs) as [T, string][]).map(([id, label]) => ({ id, label }));
