'use client'

import { SelectField } from '#app/_ui/forms/text-fields.tsx'
import type { SheetReading } from '#bench/designs/import.rules'
import { ENCODINGS } from '#kernel/encoding'
import { DELIMITERS, type TableChoice } from '#kernel/table-in'
import styles from './import.module.css'

export interface ColumnChooserProps {
  sheet: Pick<SheetReading, 'encoding' | 'delimiter' | 'hasHeading' | 'columns'> & { list: string }
  /** What columns of this list may be taken for. */
  wanted: readonly string[]
  choice: TableChoice
  onChoose(choice: TableChoice): void
}

/** What was found out about a list, each thing changeable: encoding, delimiter, heading, and what every column is taken for. */
export function ColumnChooser({ sheet, wanted, choice, onChoose }: ColumnChooserProps) {
  const { list, encoding, delimiter, columns } = sheet
  const taken = columns.map(({ column }) => column ?? '')
  const take = (index: number, name: string) =>
    onChoose({ ...choice, columns: taken.map((before, at) => (at === index ? name : before === name && name !== '' ? '' : before)) })
  return (
    <fieldset className={styles.list}>
      <legend>How it was read, column by column</legend>
      <div className="row">
        {encoding !== 'pasted' && (
          <SelectField
            name={`${list}-encoding`}
            label="Written as"
            value={encoding}
            onChange={(event) => onChoose({ ...choice, encoding: ENCODINGS.find((one) => one === event.currentTarget.value) })}
            options={ENCODINGS.map((one) => ({ value: one, label: one }))}
          />
        )}
        <SelectField
          name={`${list}-delimiter`}
          label="Columns are separated by"
          value={delimiter}
          // Other cells are other columns: what was chosen for them is found out anew.
          onChange={(event) =>
            onChoose({
              ...choice,
              columns: undefined,
              mends: undefined,
              delimiter: DELIMITERS.find((one) => one === event.currentTarget.value),
            })
          }
          options={DELIMITERS.map((one) => ({ value: one, label: one }))}
        />
        <SelectField
          name={`${list}-heading`}
          label="The list has"
          value={(choice.hasHeading ?? sheet.hasHeading) ? 'yes' : 'no'}
          onChange={(event) =>
            onChoose({ ...choice, columns: undefined, mends: undefined, hasHeading: event.currentTarget.value === 'yes' })
          }
          options={[
            { value: 'yes', label: 'a heading' },
            { value: 'no', label: 'no heading' },
          ]}
        />
      </div>
      <table className="cards">
        <caption className="visually-hidden">What each column is used for</caption>
        <thead>
          <tr>
            <th scope="col">Column</th>
            <th scope="col">First cell</th>
            <th scope="col">Used for</th>
          </tr>
        </thead>
        <tbody>
          {columns.map(({ heading, column, sample, guess }, index) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: columns have no other name, two may have the same heading
            <tr key={index}>
              <th scope="row">{heading || `column ${index + 1}`}</th>
              <td data-label="First cell" className="small">
                {sample || '·'}
              </td>
              <td>
                {guess && column === null && <span className="small quiet">left out: {guess}</span>}
                <SelectField
                  name={`${list}-column-${index}`}
                  label={`“${heading || index + 1}” is`}
                  value={column ?? ''}
                  onChange={(event) => take(index, event.currentTarget.value)}
                  options={[{ value: '', label: 'left out' }, ...wanted.map((name) => ({ value: name, label: name }))]}
                />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </fieldset>
  )
}
