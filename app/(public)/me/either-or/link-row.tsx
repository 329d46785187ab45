import { MoneyField, SelectField } from '#app/_ui/forms/text-fields.tsx'
import { sayWhen } from '#app/_ui/when.rules.ts'
import { type Currency, showMoney } from '#kernel/money'
import type { EitherOrLot } from '#sale/either-or/either-or.contract'
import type { Row } from './draft.rules'

const PLACES = ['First', 'If that is lost, then', 'Then', 'Then', 'Then', 'Then', 'Then', 'Then', 'Then', 'Then', 'Then', 'Then']

interface LinkRowProps {
  row: Row
  index: number
  /** Under which its fields are sent and refused. */
  name: string
  lots: readonly EitherOrLot[]
  currency: Currency
  zone: string
  change(changed: Partial<Row>): void
}

/** One place of an either-or: which lot, and the most for it. */
export function LinkRow({ row: { lot, maximum }, index, name, lots, currency, zone, change }: LinkRowProps) {
  const own = lots.find(({ number }) => String(number) === lot)?.ownMinor
  return (
    <div className="row" style={{ alignItems: 'flex-end' }}>
      <SelectField
        name={`${name}.lot`}
        label={PLACES[index] ?? 'Then'}
        value={lot}
        onChange={(event) => change({ lot: event.currentTarget.value })}
        options={[
          { value: '', label: 'No lot' },
          ...lots
            .filter(({ hasBid }) => index === 0 || !hasBid)
            .map((one) => ({
              value: String(one.number),
              label: `Lot ${one.number}, ${one.title}${one.closesAt === null ? '' : `, closes ${sayWhen(one.closesAt, zone, 'time')}`}`,
            })),
        ]}
      />
      <MoneyField
        name={`${name}.maximum`}
        label={`The most for ${lot === '' ? 'it' : `lot ${lot}`}`}
        hint={own ? `You lead it with a maximum of ${showMoney(own, currency)}: write that or more.` : undefined}
        currency={currency}
        value={maximum}
        onChange={(event) => change({ maximum: event.currentTarget.value })}
      />
    </div>
  )
}
