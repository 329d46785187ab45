import { decimalsIn, isFigure, tidyFigure } from './limits.rules'

export interface LimitCells {
  nominal: string
  lower: string
  upper: string
}

const FIGURE = String.raw`[+-]?\d+(?:[.,]\d+)?`
const BETWEEN = new RegExp(`^(${FIGURE}) ?(?:\\.\\.\\.?|…|to|bis|à|a|-) ?(${FIGURE})$`, 'i')
const AROUND = new RegExp(`^(${FIGURE}) ?± ?(\\d+(?:[.,]\\d+)?) ?(%|ppm)?$`, 'i')
const AT_LEAST = new RegExp(`^(?:>=?|≥|min\\.?|minimum|at least|mind\\.|mindestens|from) ?(${FIGURE})$`, 'i')
const AT_MOST = new RegExp(`^(?:<=?|≤|max\\.?|maximum|at most|höchstens|up to) ?(${FIGURE})$`, 'i')
const NONE = /^(?:-|–|yes|no|ok|y\/n|yes\/no)?$/i

/**
 * The two limits out of one cell: "4.75 to 5.25", "4.75..5.25", "5 ± 5 %", "5 ± 0.25", "≥ 0.5", "at most 20". The unit may
 * stand behind them. Null when it says none of these.
 */
export function limitsApart(cell: string, unit: string): LimitCells | null {
  const own = unit.normalize('NFKC').trim()
  const text = tidyFigure(cell).replaceAll(/\s+/g, ' ')
  const bare = own !== '' && text.endsWith(own) ? text.slice(0, -own.length).trim() : text
  if (NONE.test(bare)) return { nominal: '', lower: '', upper: '' }
  const between = BETWEEN.exec(bare)
  if (between) return { nominal: '', lower: between[1] ?? '', upper: between[2] ?? '' }
  const around = AROUND.exec(bare)
  if (around) return aroundIt(around)
  const least = AT_LEAST.exec(bare)
  if (least) return { nominal: '', lower: least[1] ?? '', upper: '' }
  const most = AT_MOST.exec(bare)
  if (most) return { nominal: '', lower: '', upper: most[1] ?? '' }
  // "0 defects": so many, no more and no fewer.
  return /^\d{1,6}$/.test(bare) ? { nominal: '', lower: bare, upper: bare } : null
}

function aroundIt([, written = '', off = '', relative]: RegExpExecArray): LimitCells | null {
  const nominal = tidyFigure(written)
  const by = tidyFigure(off)
  if (relative) return { nominal, lower: `-${by} ${relative}`, upper: `+${by} ${relative}` }
  if (!isFigure(nominal) || !isFigure(by)) return null
  const decimals = Math.max(decimalsIn(nominal), decimalsIn(by))
  return { nominal, lower: (Number(nominal) - Number(by)).toFixed(decimals), upper: (Number(nominal) + Number(by)).toFixed(decimals) }
}
