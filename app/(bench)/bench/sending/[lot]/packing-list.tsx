'use client'

import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { refusedBy } from '#app/_trpc/use-command.ts'
import { classes } from '#app/_ui/classes.ts'
import { sendPhotograph } from '#app/_ui/forms/send-photograph.ts'
import { Notice } from '#app/_ui/notice.tsx'
import { ToneMark } from '#app/_ui/tone-mark.tsx'
import { When } from '#app/_ui/when.tsx'
import type { PackedItem, SendingView } from '#money/sending/sending.contract'
import styles from './packing-list.module.css'

/** Each thing is one large target for a thumb: a tick says that it is in, a photograph how it went in. */
export function PackingList({ view, mayPack }: { view: SendingView; mayPack: boolean }) {
  const router = useRouter()
  const [busy, setBusy] = useState<string | null>(null)
  const [refused, setRefused] = useState<string | null>(null)
  const done = view.items.filter(({ packedAt }) => packedAt !== null).length

  const work = async (item: string, what: () => Promise<unknown>) => {
    if (busy !== null) return
    setBusy(item)
    setRefused(null)
    try {
      await what()
      router.refresh()
    } catch (reason) {
      setRefused(refusedBy(reason).words)
    } finally {
      setBusy(null)
    }
  }
  const tick = ({ key, packedAt }: PackedItem) =>
    work(key, () => api.sending.tick.mutate({ lot: view.lot, item: key, isPacked: packedAt === null }))
  const photograph = ({ key }: PackedItem, file: File | undefined) =>
    file &&
    work(key, async () => {
      const kept = await sendPhotograph(file)
      if ('words' in kept) return setRefused(kept.words)
      await api.sending.photograph.mutate({ lot: view.lot, item: key, sha: kept.sha })
    })

  return (
    <div className="stack close">
      <p role="status">{busy === null ? `${done} of ${view.items.length} are in.` : 'Saving…'}</p>
      {refused && (
        <Notice tone="bad" live="alert">
          {refused}
        </Notice>
      )}
      <ul className={`plain-list ${styles.items}`}>
        {view.items.map((item) => (
          <li key={item.key} className={classes(styles.item, item.packedAt !== null && styles.packed)}>
            {mayPack ? (
              <button type="button" className={styles.tick} aria-pressed={item.packedAt !== null} onClick={() => void tick(item)}>
                <span className={styles.box}>{item.packedAt !== null && <ToneMark tone="ok" size={20} />}</span>
                <What item={item} zone={view.zone} />
              </button>
            ) : (
              <div className={styles.tick}>
                <span className={styles.box}>{item.packedAt !== null && <ToneMark tone="ok" size={20} />}</span>
                <What item={item} zone={view.zone} />
              </div>
            )}
            {mayPack && (
              <label className={styles.camera}>
                {item.photographs.length > 0 ? 'Another photograph' : 'Photograph'}
                <span className="visually-hidden"> of {item.what}</span>
                <input
                  type="file"
                  accept="image/jpeg,image/png,image/webp"
                  capture="environment"
                  onChange={(event) => void photograph(item, event.currentTarget.files?.[0])}
                />
              </label>
            )}
            <div className={styles.below}>
              {item.photographs.map(({ sha, by }) => (
                // biome-ignore lint/performance/noImgElement: our files come in three widths already.
                <img key={sha} src={`/files/${sha}-480.webp`} alt={`${item.what}, as ${by} packed it`} loading="lazy" />
              ))}
              {item.paper && (
                <a href={item.paper} className="small">
                  Print it<span className="visually-hidden">: {item.what}</span>
                </a>
              )}
            </div>
          </li>
        ))}
      </ul>
    </div>
  )
}

function What({ item, zone }: { item: PackedItem; zone: string }) {
  return (
    <span className={styles.what}>
      <span className={styles.name}>{item.what}</span>
      <span className="small quiet">
        {item.packedAt === null ? (
          `${item.note}${item.wantsPhotograph ? ' · needs a photograph' : ''}`
        ) : (
          <>
            in, {item.packedBy}, <When at={item.packedAt} zone={zone} brief />
          </>
        )}
      </span>
    </span>
  )
}
