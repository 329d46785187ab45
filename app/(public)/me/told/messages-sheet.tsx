'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { Notice } from '#app/_ui/notice.tsx'
import { stopMessages } from '#app/_ui/told/this-browser.ts'
import { useMessages } from '#app/_ui/told/use-messages.ts'
import type { HowTold } from '#sale/pushes/told.contract'
import { DeviceTable } from './device-table'
import { WishSwitch } from './wish-switch'

interface MessagesSheetProps {
  told: HowTold
  zone: string
  /** The lot from whose page the reader came. */
  named: { number: number; title: string } | null
}

/** Messages to this device and others, and what they are to be of. */
export function MessagesSheet({ told, zone, named }: MessagesSheetProps) {
  const router = useRouter()
  const { messages, look, switchOn } = useMessages({ publicUrl: told.publicUrl, houseKey: told.key })
  const here = told.devices.find(({ tail }) => tail === messages?.tail)
  const on = useCommand(async () => {
    await switchOn()
    // Without a wish a device would be told nothing: the first one is what brought the reader here.
    if (named) await api.told.want.mutate({ lot: named.number, wanted: true })
    else if (!told.mine && told.lots.length === 0) await api.told.want.mutate({ lot: null, wanted: true })
    router.refresh()
  })
  const off = useCommand(async () => {
    await stopMessages()
    if (here) await api.told.removeDevice.mutate({ id: here.id })
    await look()
    router.refresh()
  })
  const isReached = told.devices.length > 0
  const refusal = on.refusal ?? off.refusal
  const lots = named && !told.lots.some(({ number }) => number === named.number) ? [named, ...told.lots] : told.lots
  return (
    <section className="sheet stack" aria-labelledby="messages">
      <h2 id="messages">Messages to this device</h2>
      {messages?.whyNot && (
        <Notice tone="doubt" title="Messages cannot reach this device from here">
          {messages.whyNot}
        </Notice>
      )}
      {messages && messages.whyNot === null && (
        <div className="row">
          {here ? (
            <button type="button" className="button-line" aria-busy={off.pending} onClick={() => off.run(undefined)}>
              Stop messages to this device
            </button>
          ) : (
            <button type="button" className="button" aria-busy={on.pending} onClick={() => on.run(undefined)}>
              Send messages to this device
            </button>
          )}
        </div>
      )}
      <p role="status" className="small">
        {refusal ? refusal.words : here ? 'Messages come to this device, even while the page is closed.' : ''}
      </p>
      <h3>What they are about</h3>
      <WishSwitch lot={null} isOn={told.mine} isReached={isReached}>
        Every lot I bid on
      </WishSwitch>
      {lots.map(({ number, title }) => (
        <WishSwitch key={number} lot={number} isOn={told.lots.some((one) => one.number === number)} isReached={isReached}>
          Lot {number}, {title}
        </WishSwitch>
      ))}
      <p className="small quiet">
        They pass through the message service of your browser’s maker, sealed so that only this browser can read them. They name the lot and
        nobody.
      </p>
      {told.devices.length > 0 && <DeviceTable devices={told.devices} hereId={here?.id ?? null} zone={zone} />}
    </section>
  )
}
