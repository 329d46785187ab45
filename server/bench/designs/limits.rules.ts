import { withoutAtEnd } from '#kernel/text'
/** A limit as read: its value, in how many decimals, and how it was written if not as a plain figure. */
export interface Limit {
  value: number
  decimals: number
  /** "−5 %", "+100 ppm"; null for a figure. */
  as: string | null
}

export type LimitAnswer = { ok: true; limit: Limit | null } | { ok: false; words: string }

const NO_LIMIT: LimitAnswer = { ok: true, limit: null }

/**
 * A limit is a figure in the check's unit (`4.75`), or so far off the nominal: `-5 %`, `+100 ppm`, `±2 %`. What is off the
 * nominal is off its size, so the lower limit of −12 V with `-5 %` is −12.6 V.
 */
export function readLimit(cell: string, side: 'lower' | 'upper', nominal: { text: string; value: number } | null): LimitAnswer {
  const text = tidyFigure(cell)
  if (text === '') return NO_LIMIT
  if (isFigure(text)) return { ok: true, limit: { value: Number(text) + 0, decimals: decimalsIn(text), as: null } }
  const off = /^([+\-±])\s*(\d+(?:[.,]\d+)?)\s*(%|ppm)$/i.exec(text)
  if (!off) {
    const unsigned = /^\d+(?:[.,]\d+)?\s*(%|ppm)$/i.test(text)
    const example = side === 'lower' ? '-5 %' : '+5 %'
    return {
      ok: false,
      words: unsigned
        ? `Write how far it is off the nominal, with a sign, such as ${example}.`
        : `"${cell.trim()}" is not a limit. Write a figure such as 4.75, or how far off the nominal, such as ${example} or ±50 ppm.`,
    }
  }
  if (nominal === null || nominal.value === 0)
    return { ok: false, words: 'That is relative to the nominal, and there is none. Write the nominal, or a figure here.' }
  const [, mark = '', amount = '', kind = ''] = off
  const sign = mark === '±' ? (side === 'lower' ? '-' : '+') : mark
  const figure = amount.replace(',', '.')
  const shift = kind === '%' ? 2 : 6
  const most = Math.min(12, decimalsIn(nominal.text) + decimalsIn(figure) + shift)
  const share = Number(`${figure}e-${shift}`)
  const written = trimmed((nominal.value + (sign === '-' ? -1 : 1) * share * Math.abs(nominal.value)).toFixed(most))
  return {
    ok: true,
    limit: { value: Number(written) + 0, decimals: decimalsIn(written), as: `${sign === '-' ? '−' : '+'}${figure} ${kind.toLowerCase()}` },
  }
}

export const tidyFigure = (cell: string): string =>
  cell
    .normalize('NFKC')
    .trim()
    .replaceAll(/[\u2212\u2013]/g, '-')
    .replaceAll('+/-', '±')
    .replace(/^([+-]?\d+),(\d+)$/, '$1.$2')

export const isFigure = (text: string): boolean => text.length <= 18 && /^[+-]?(\d+(\.\d*)?|\.\d+)$/.test(text)

export const decimalsIn = (cell: string): number => Math.min(12, tidyFigure(cell).split('.')[1]?.length ?? 0)

const trimmed = (figure: string) => (figure.includes('.') ? withoutAtEnd(withoutAtEnd(figure, '0'), '.') : figure)
