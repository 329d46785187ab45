import { type Currency, type Minor, plainMoney, showMoney } from '#kernel/money'

export interface MoneyProps {
  minor: Minor
  currency: Currency
  /** Leaves out the minor part when it is nought: £165. */
  short?: boolean
}

/** An amount, never broken over two lines. */
export function Money({ minor, currency, short = false }: MoneyProps) {
  return (
    <data value={`${plainMoney(minor, currency)} ${currency}`} style={{ fontVariantNumeric: 'tabular-nums', whiteSpace: 'nowrap' }}>
      {showMoney(minor, currency, { short })}
    </data>
  )
}
