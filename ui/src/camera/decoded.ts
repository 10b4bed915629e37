/** A chosen file as something that can be shown; null for what is no picture, which must not be drawn. */
export async function decoded(file: Blob): Promise<string | null> {
  const url = URL.createObjectURL(file);
  const image = new Image();
  image.src = url;
  try {
    await image.decode();
    return url;
  } catch {
    URL.revokeObjectURL(url);
    return null;
  }
}
