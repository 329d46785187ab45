import { bareHex, readIdcode, sayDifference } from '#stock/catalogue/idcode.rules'

/** A match is exact: a file's SHA-256 (64 hexadecimal digits), or an identification code of IEEE 1149.1 (8). */
export type MatchAnswer = { ok: true; isSame: boolean; read: string; differs: string | null } | { ok: false; words: string }

export function compareMatch(text: string, expects: string | null): MatchAnswer {
  if (expects === null)
    return { ok: false, words: 'The design does not say what to expect here. Add it to the checklist and import the list again.' }
  const wanted = bareHex(expects)
  const read = bareHex(text)
  const isHash = wanted.length === 64
  if (read === '')
    return { ok: false, words: isHash ? 'Choose the file that was read back.' : 'Write the identification code, such as 0x012345A7.' }
  if (!/^[0-9a-f]+$/.test(read) || read.length !== wanted.length) {
    return {
      ok: false,
      words: isHash
        ? 'A SHA-256 has 64 digits from 0 to 9 and a to f. Choose the file, or paste the whole hash.'
        : 'An identification code has eight digits from 0 to 9 and A to F, such as 0x012345A7.',
    }
  }
  if (isHash) return { ok: true, isSame: read === wanted, read, differs: read === wanted ? null : 'another file' }
  const [mine, theirs] = [readIdcode(read), readIdcode(wanted)]
  if (!mine.ok) return mine
  return { ok: true, isSame: read === wanted, read, differs: theirs.ok ? sayDifference(mine.idcode, theirs.idcode) : null }
}
