/** A name as its letters say it: kinds of apostrophes, quotation marks, dashes and blanks are one each, whatever a keyboard writes. */
export const lettersOf = (name: string): string =>
  name
    .normalize('NFKC')
    .replaceAll(/[‘’‚‛ʼ´`′]/g, "'")
    .replaceAll(/[“”„‟″«»]/g, '"')
    .replaceAll(/[‐‑‒–—―−]/g, '-')
    .replaceAll(/\s+/g, ' ')
    .trim()
