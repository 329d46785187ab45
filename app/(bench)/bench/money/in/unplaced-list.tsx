import { Chip } from '#app/_ui/chip.tsx'
import { showMoney } from '#kernel/money'
import type { Books } from '#money/books/books.contract'
import { GiveBackButton, KeepAsGiftButton, PlaceOnLotButton } from './unplaced-actions'

/** Money that came and has no home: each sum with what is known of it, and the three ways on. */
export function UnplacedList({ books }: { books: Pick<Books, 'unplaced' | 'statement' | 'mayWrite'> }) {
  const { currency, lots } = books.statement
  const show = (minor: number) => showMoney(minor, currency)
  const owing = lots.filter(({ owedMinor }) => owedMinor > 0)
  return (
    <ul className="tiles">
      {books.unplaced.map((item) => (
        <li key={item.entryId} className="sheet stack close">
          <p className="row apart">
            <b className="num">{show(item.leftMinor)}</b>
            <Chip tone={item.isOwedBack ? 'bad' : 'doubt'}>{item.isOwedBack ? 'Owed back' : 'Unallocated'}</Chip>
          </p>
          <p>
            {item.memo}.{item.payer && ` From ${item.payer}.`}
            {item.leftMinor < item.amountMinor && ` Of ${show(item.amountMinor)} in all.`}
          </p>
          <p className="small quiet">
            On the bank statement {item.valueOn}
            {item.reference && `, reference “${item.reference}”`}
          </p>
          {books.mayWrite && (
            <div className="row">
              {owing.length > 0 && <PlaceOnLotButton item={item} currency={currency} lots={owing} />}
              <GiveBackButton item={item} currency={currency} />
              <KeepAsGiftButton item={item} currency={currency} />
            </div>
          )}
        </li>
      ))}
    </ul>
  )
}
