'use client'

import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { Notice } from '#app/_ui/notice.tsx'
import { When } from '#app/_ui/when.tsx'
import type { Instant } from '#kernel/instant'

interface OwnPageProps {
  donorId: string
  hasMail: boolean
  /** When the link that opens it now was made; null when there is none. */
  madeAt: Instant | null
  zone: string
}

/** The donor's private page: its link is mailed, or made once to be handed over. Only its hash is kept, so it is shown once. */
export function OwnPage({ donorId, hasMail, madeAt, zone }: OwnPageProps) {
  const router = useRouter()
  const [link, setLink] = useState<string | null>(null)
  const [said, setSaid] = useState('')
  const mail = useCommand(async () => {
    await api.yours.mailLink.mutate({ donorId })
    return true
  })
  const make = useCommand(() => api.yours.makeLink.mutate({ donorId }))
  const close = useCommand(async () => {
    await api.yours.closeLinks.mutate({ donorId })
    return true
  })
  const send = async () => {
    setLink(null)
    if (await mail.run(undefined)) setSaid('The link is on its way by email.')
    router.refresh()
  }
  const hand = async () => {
    setSaid('')
    const made = await make.run(undefined)
    if (made) setLink(made.link)
    router.refresh()
  }
  const shut = async () => {
    setLink(null)
    if (await close.run(undefined)) setSaid('The link no longer works.')
    router.refresh()
  }
  const refusal = mail.refusal ?? make.refusal ?? close.refusal
  return (
    <section className="sheet stack" aria-labelledby="own-page">
      <h2 id="own-page">Their own page</h2>
      <p className="small">
        A link without an account: what became of each gift, and how they agreed to be named, which they can change at any time. It shows
        nobody else’s data.
      </p>
      <p className="small quiet">
        {madeAt === null ? (
          'No link has been made yet.'
        ) : (
          <>
            The link that opens it was made on <When at={madeAt} zone={zone} brief />.
          </>
        )}
      </p>
      <div className="row">
        {hasMail && (
          <button type="button" className="button-line" onClick={send}>
            {madeAt !== null ? 'Email a new link' : 'Email the link'}
          </button>
        )}
        <button type="button" className="button-line" onClick={hand}>
          Make one to hand over
        </button>
        {madeAt !== null && (
          <button type="button" className="button-line" onClick={shut}>
            Close the link
          </button>
        )}
      </div>
      {link && (
        <Notice title="Shown only once">
          <p className="code several" style={{ overflowWrap: 'anywhere' }}>
            {link}
          </p>
          <p className="small">Give it only to the donor. Any earlier link no longer works.</p>
        </Notice>
      )}
      <p role="status" className="small">
        {refusal ? refusal.words : said}
      </p>
    </section>
  )
}
