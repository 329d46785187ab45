'use client'

import { api } from '#app/_trpc/client.ts'
import { ConfirmButton } from '#app/_ui/forms/confirm-button.tsx'
import { When } from '#app/_ui/when.tsx'
import type { LayoutView } from '#money/bank/bank.contract'
import { useBookForm } from '../use-book-form'

export interface LayoutsProps {
  layouts: readonly LayoutView[]
  zone: string
  mayWrite: boolean
}

/** What is remembered of each bank's files, and by which its next one is read. */
export function Layouts({ layouts, zone, mayWrite }: LayoutsProps) {
  return (
    <details className="sheet">
      <summary>How files are read: {layouts.length === 1 ? 'one layout is' : `${layouts.length} layouts are`} remembered</summary>
      <p>
        A file with these headings, of the same account, is read like the last one. To change how, import the next one with other choices:
        they are remembered instead.
      </p>
      <ul className="plain-list stack">
        {layouts.map((one) => (
          <li key={one.id} className="stack close">
            <h3>{titleOf(one)}</h3>
            <ul className="small">
              {one.columns.map(({ heading, column }, index) => (
                // biome-ignore lint/suspicious/noArrayIndexKey: columns have no other name, two may have the same heading
                <li key={index}>
                  “{heading || `column ${index + 1}`}” is {column === '' ? 'left out' : `the ${column}`}
                </li>
              ))}
              {one.dayOrder !== null && <li>In dates that can be read in two ways, {one.dayOrder.replace(' first', '')} comes first</li>}
              {one.isTurned && <li>A minus sign means money that came in</li>}
            </ul>
            <p className="small quiet">
              Last said for {nameOf(one.file)}
              {one.by !== null && ` by ${one.by}`}, <When at={one.at} zone={zone} brief />
            </p>
            {mayWrite && (
              <div className="row">
                <Forget layoutId={one.id} />
              </div>
            )}
          </li>
        ))}
      </ul>
    </details>
  )
}

const titleOf = ({ processor, account, file }: LayoutView): string => {
  if (processor !== '') return `Payouts of ${processor}`
  return account === '' ? nameOf(file) : `Account ${account}`
}

/** What was pasted has no file's name. */
export const nameOf = (file: string): string => (file === '' || file === 'pasted' ? 'a pasted list' : file)

function Forget({ layoutId }: { layoutId: string }) {
  const { run, pending, refusal, onDone } = useBookForm(api.bank.forgetLayout.mutate)
  return (
    <ConfirmButton
      run={() => run({ layoutId })}
      pending={pending}
      refusal={refusal}
      onDone={onDone}
      title="Forget how these files are read?"
      undoes={<p>The next file is read by its own headings, and you are asked about the rest again. Lines that are here stay.</p>}
      confirm="Forget it"
      keep="Keep it"
    >
      Forget…
    </ConfirmButton>
  )
}
