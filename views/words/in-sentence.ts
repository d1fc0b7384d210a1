/** Words that can stand alone, as they stand in the middle of a sentence. */
export function inSentence(words: string): string {
  return words.charAt(0).toLowerCase() + words.slice(1);
}
