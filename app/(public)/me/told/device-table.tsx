'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { Chip } from '#app/_ui/chip.tsx'
import { When } from '#app/_ui/when.tsx'
import type { ShownDevice } from '#people/devices/devices.contract'

/** Every device of the reader's that messages go to; each can be deleted from here. */
export function DeviceTable({ devices, hereId, zone }: { devices: readonly ShownDevice[]; hereId: string | null; zone: string }) {
  return (
    <table className="cards">
      <caption>Devices that messages go to</caption>
      <thead>
        <tr>
          <th scope="col">Browser</th>
          <th scope="col">Since</th>
          <th scope="col">Last message</th>
          <th scope="col">
            <span className="visually-hidden">Delete it</span>
          </th>
        </tr>
      </thead>
      <tbody>
        {devices.map(({ id, name, at, toldAt }) => (
          <tr key={id}>
            <th scope="row">{name}</th>
            <td data-label="Since">
              <When at={at} zone={zone} brief />
            </td>
            <td data-label="Last message">{toldAt === null ? 'none yet' : <When at={toldAt} zone={zone} brief />}</td>
            <td>{id === hereId ? <Chip tone="ok">This one</Chip> : <Remove id={id} name={name} />}</td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}

function Remove({ id, name }: { id: string; name: string }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(async () => {
    await api.told.removeDevice.mutate({ id })
    router.refresh()
  })
  return (
    <>
      <button type="button" className="button-line" aria-busy={pending} onClick={() => run(undefined)}>
        Delete <span className="visually-hidden">{name}</span>
      </button>
      {refusal && <span role="alert">{refusal.words}</span>}
    </>
  )
}
