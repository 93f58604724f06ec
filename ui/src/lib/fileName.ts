/** A name as that of a file: what some file systems cannot hold becomes a hyphen; `otherwise` where nothing is left. */
export function fileName(name: string, otherwise: string): string {
  const plain = name.replace(/[^\p{L}\p{N} ._-]+/gu, '-').trim();
  return plain.replace(/^[.\s-]+|[.\s-]+$/g, '') || otherwise;
}
