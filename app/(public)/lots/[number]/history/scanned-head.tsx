'use client'

import { useEffect, useState } from 'react'
import { Notice } from '#app/_ui/notice.tsx'
import { readStrictJson } from '#kernel/strict-json'
import { openNote } from '#sale/history/checkpoint.rules'
import { readHeadFragment } from '#sale/history/head-address.rules'
import { historyShape } from '#sale/history/history.contract'
import { shortHead } from '#sale/history/short-head.rules'

interface Compared {
  tone: 'ok' | 'bad' | 'doubt'
  title: string
  words: string
}

/** For whoever comes by the code in the picture of the stream: is the head that stood there the one that this history has at that place? */
export function ScannedHead({ lot }: { lot: number }) {
  const [compared, setCompared] = useState<Compared | null>(null)
  useEffect(() => {
    const look = async () => {
      const seen = readHeadFragment(location.hash)
      setCompared(seen && (await compare(lot, seen)))
    }
    void look()
    addEventListener('hashchange', look)
    return () => removeEventListener('hashchange', look)
  }, [lot])
  if (!compared) return null
  return (
    <Notice tone={compared.tone} title={compared.title} live="status">
      {compared.words}
    </Notice>
  )
}

async function compare(lot: number, seen: { size: number; root: string }): Promise<Compared> {
  const shown = shortHead(seen.root)
  try {
    const history = historyShape.parse(readStrictJson(await (await fetch(`/lots/${lot}/history.json`)).text()))
    const kept = history.heads.find(({ size }) => size === seen.size)
    const root = kept && openNote(kept.checkpoint)?.head.root
    const hex = root && Array.from(root, (byte) => byte.toString(16).padStart(2, '0')).join('')
    if (hex === seen.root)
      return {
        tone: 'ok',
        title: `The head in the picture, ${shown}, is in this history`,
        words: `It was signed after ${seen.size} entries, so none of those has been changed since it was shown.`,
      }
    return {
      tone: 'bad',
      title: `The head in the picture, ${shown}, is not in this history`,
      words: `After ${seen.size} entries this history has ${hex ? shortHead(hex) : 'no head'}. Keep the picture, and ask whoever runs the sale.`,
    }
  } catch {
    return {
      tone: 'doubt',
      title: 'The head in the picture could not be compared',
      words: 'The history could not be read. Check the connection and reload.',
    }
  }
}
