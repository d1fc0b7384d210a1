/** Words that can stand alone, as they stand in the middle of a sentence. */
export function inSentence(words: string): string {
  return words.charAt(0).toLowerCase() + words.slice(1);
}

/** Words as they begin a sentence. */
export function capitalized(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}
