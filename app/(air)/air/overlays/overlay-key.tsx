'use client'

import { useRouter } from 'next/navigation'
import type { OverlayDesk } from '#air/screens/overlay.contract'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { ConfirmButton } from '#app/_ui/forms/confirm-button.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import { When } from '#app/_ui/when.tsx'

/** Since when the key is this one, and the button that makes another. */
export function OverlayKey({ desk, zone }: { desk: OverlayDesk; zone: string }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(() => api.air.changeKey.mutate())
  const isFirst = desk.keyMadeAt === null
  return (
    <div className="stack close">
      {desk.key === null && (
        <Notice tone="doubt" title={isFirst ? 'There is no key yet' : 'The key was made by another house'}>
          {isFirst
            ? 'Addresses are shown once there is one.'
            : 'Overlays opened with it keep working; to copy addresses here, make a new one.'}
        </Notice>
      )}
      <div className="row">
        {desk.keyMadeAt !== null && (
          <p>
            Key of <When at={desk.keyMadeAt} zone={zone} brief />.
          </p>
        )}
        <ConfirmButton
          title={isFirst ? 'Make a key for the overlays?' : 'Make a new key?'}
          undoes={
            <p>
              {isFirst
                ? 'Anyone with such an address can see the overlays, but change nothing.'
                : 'Every overlay that is open with the old one goes dark at once; each source in the mixer needs its new address.'}
            </p>
          }
          confirm="Make it"
          pending={pending}
          refusal={refusal}
          run={() => run(undefined)}
          onDone={() => router.refresh()}
        >
          {isFirst ? 'Make a key…' : 'New key…'}
        </ConfirmButton>
      </div>
      <p className="small quiet">
        The key comes after the # of an address: browsers never send that part, so it is in no log. It opens these pictures and nothing
        else.
      </p>
    </div>
  )
}
