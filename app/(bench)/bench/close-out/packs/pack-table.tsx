'use client'

import type { MouseEvent } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { EmptyState } from '#app/_ui/empty-state.tsx'
import { ConfirmButton } from '#app/_ui/forms/confirm-button.tsx'
import { When } from '#app/_ui/when.tsx'
import type { PackLine } from '#end/packs/packs.service'

/** Every pack that was ever made here with its digest. Those whose files are still here can be downloaded. */
export function PackTable({ packs, zone, onRemoved }: { packs: readonly PackLine[]; zone: string; onRemoved(): void }) {
  if (packs.length === 0)
    return (
      <EmptyState title="No pack has been made yet.">
        <p>The first one will appear here with its digest, ready to download.</p>
      </EmptyState>
    )
  return (
    <div className="scroll">
      <table className="cards">
        <caption>Packs that were made</caption>
        <thead>
          <tr>
            <th scope="col">Pack</th>
            <th scope="col">Made</th>
            <th scope="col">Holds</th>
            <th scope="col" className="num">
              Size
            </th>
            <th scope="col">File</th>
          </tr>
        </thead>
        <tbody>
          {packs.map((pack) => (
            <tr key={pack.fileName}>
              <th scope="row">
                {pack.isHere ? <Fetch fileName={pack.fileName} /> : pack.fileName}
                <div className="digest">SHA-256 {pack.sha256}</div>
              </th>
              <td data-label="Made">
                <span>
                  <When at={pack.at} zone={zone} brief />
                  {pack.by && <span className="quiet">, {pack.by}</span>}
                </span>
              </td>
              <td data-label="Holds">
                <span>
                  {pack.withContacts ? 'contact data too' : 'no contact data'}
                  {!pack.isWhole && <span className="quiet">, without what was sealed</span>}
                </span>
              </td>
              <td data-label="Size" className="num">
                {sizeWords(pack.bytes)}
              </td>
              <td data-label="File">{pack.isHere ? <Remove fileName={pack.fileName} onRemoved={onRemoved} /> : 'no longer here'}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  )
}

/** Asked for first: one with contact data is given only to whoever has confirmed that it is them. */
function Fetch({ fileName }: { fileName: string }) {
  const { run, refusal } = useCommand(api.packs.mayFetch.mutate)
  const path = `/bench/close-out/packs/${fileName}`
  const fetchIt = async (event: MouseEvent) => {
    event.preventDefault()
    if (await run({ fileName })) window.location.assign(path)
  }
  return (
    <>
      <a href={path} onClick={fetchIt}>
        {fileName}
      </a>
      {refusal && <p role="alert">{refusal.words}</p>}
    </>
  )
}

function Remove({ fileName, onRemoved }: { fileName: string; onRemoved(): void }) {
  const { run, ...command } = useCommand(api.packs.remove.mutate)
  return (
    <ConfirmButton
      {...command}
      run={() => run({ fileName }).then((answer) => (answer === undefined ? undefined : { fileName }))}
      onDone={onRemoved}
      title="Delete this pack here?"
      undoes={
        <p>The file is deleted from this machine. Downloaded copies stay where they are, and the list still shows that it was made.</p>
      }
      confirm="Delete it"
      keep="Keep it"
    >
      Delete…
    </ConfirmButton>
  )
}

const sizeWords = (bytes: number): string => (bytes < 1_000_000 ? `${Math.ceil(bytes / 1000)} kB` : `${(bytes / 1_000_000).toFixed(1)} MB`)
