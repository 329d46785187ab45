'use client'

import { useEffect, useRef, useState } from 'react'
import { type KnownKeys, knownKeys } from '#app/_trust/known-keys.ts'
import { TextField } from '#app/_ui/forms/text-fields.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import { readLink } from '#bench/certificates/chosen-file.rules'
import styles from './check.module.css'
import { checkChosen } from './check-chosen'
import { checkWitness } from './check-witness'
import type { Chosen, Finding } from './finding'
import { FoundList } from './found-list'
import { keepPage } from './keep-page'
import { KeyList } from './key-list'
import { readPicture } from './read-picture'
import { WitnessForm } from './witness-form'

type Work = { is: 'idle' } | { is: 'busy' } | { is: 'done'; findings: Finding[] } | { is: 'refused'; words: string }

/** Takes a file, a link or a picture of the code, and says what was found of each. */
export function CheckDesk() {
  const [known, setKnown] = useState<KnownKeys | null>(null)
  const [isKept, setKept] = useState<boolean | null>(null)
  const [work, setWork] = useState<Work>({ is: 'idle' })
  const [link, setLink] = useState('')
  const turn = useRef(0)

  useEffect(() => {
    void knownKeys(Date.now()).then(setKnown)
    void keepPage().then(setKept)
    const asked = new URLSearchParams(window.location.search).get('serial')
    if (asked) setLink(asked)
  }, [])

  const houseKeys = async () => (known ?? (await knownKeys(Date.now()))).keys
  const find = async (findings: () => Promise<Finding[] | string>) => {
    const mine = ++turn.current
    setWork({ is: 'busy' })
    const found = await findings().catch(() => 'The check did not finish. Choose the files one by one: to see which of them it stops at.')
    if (mine === turn.current) setWork(typeof found === 'string' ? { is: 'refused', words: found } : { is: 'done', findings: found })
  }
  const run = (gather: () => Promise<Chosen[] | string>) =>
    find(async () => {
      const gathered = await gather()
      return typeof gathered === 'string' ? gathered : checkChosen(gathered, await houseKeys())
    })

  const files = (list: FileList | null) =>
    list &&
    list.length > 0 &&
    run(() => Promise.all(Array.from(list, async (file) => ({ name: file.name, bytes: new Uint8Array(await file.arrayBuffer()) }))))

  const picture = (file: File | undefined) =>
    file &&
    run(async () => {
      const said = await readPicture(file)
      if (said === null)
        return 'No code was found on the picture. Hold the camera straight above it, near enough that it fills half of the picture, without glare.'
      setLink(said)
      return behindLink(said)
    })

  return (
    <div className="stack">
      <section className={`sheet ${styles.ways}`} aria-label="What to check">
        <label className={styles.way}>
          <b>Files from this device</b>
          <span className="small quiet">
            The signed record of a machine, how it stands, the history of a lot, or your receipts (JSON). You can choose several at once,
            and add a key set, a record to compare, or another history of the same lot.
          </span>
          <input
            type="file"
            multiple
            accept=".json,application/json,application/jose+json"
            onChange={(event) => files(event.target.files)}
          />
        </label>
        <label className={styles.way}>
          <b>A picture of the code</b>
          <span className="small quiet">As printed on the certificate or on the card in the box.</span>
          <input type="file" accept="image/*" capture="environment" onChange={(event) => picture(event.target.files?.[0])} />
        </label>
        <form
          className={styles.way}
          onSubmit={(event) => {
            event.preventDefault()
            void run(() => behindLink(link))
          }}
        >
          <TextField
            name="link"
            label="A link or a serial"
            hint="Such as TS-2027-0147-M."
            value={link}
            onChange={(event) => setLink(event.target.value)}
            mono
          />
          <button type="submit" className="button">
            Check it
          </button>
        </form>
        <WitnessForm onCheck={(written, lot) => find(async () => checkWitness(written, lot, await houseKeys()))} />
      </section>
      <div role="status" className="stack close">
        {work.is === 'busy' && <p>Checking…</p>}
        {work.is === 'refused' && (
          <Notice tone="doubt" title="Nothing to check yet">
            <p>{work.words}</p>
          </Notice>
        )}
        {work.is === 'done' && <FoundList findings={work.findings} houseKeys={houseKeys} />}
      </div>
      <KeyList known={known} />
      <p className="small quiet">
        {isKept === null && 'Saving this page on your device…'}
        {isKept === true && 'This page is saved on your device, and now checks without a connection.'}
        {isKept === false && 'This browser cannot save the page, so you need a connection to open it. Checking itself needs none.'}
      </p>
    </div>
  )
}

/** The signed record behind a link of this house: fetched, or out of what this device has kept. In words why not. */
async function behindLink(written: string): Promise<Chosen[] | string> {
  const link = readLink(written)
  if (!link) return 'That names no certificate. A serial looks like TS-2027-0147-M; a link ends with one.'
  if (link.home !== null && link.home !== window.location.origin)
    return `That certificate is from ${link.home}. Open the checking page there, or save the signed record and its jwks.json and choose both here.`
  try {
    const answer = await fetch(`/certificates/${link.serial}.json`)
    if (answer.status === 404) return `This house has issued no certificate ${link.serial}. Check its last character.`
    if (!answer.ok) return 'The house could not give the file. Try again in a moment.'
    return [{ name: `${link.serial}.json`, bytes: new Uint8Array(await answer.arrayBuffer()) }, ...(await howItStands(link.serial))]
  } catch {
    return 'There is no connection, and this certificate was not opened here before. Choose the saved file instead.'
  }
}

/** What the house says of it now, or, without a connection, what it said of it or of all when this device asked last; nothing where it never did. */
async function howItStands(serial: string): Promise<Chosen[]> {
  for (const [address, name] of [
    [`/certificates/${serial}/status.json`, `${serial}-status.json`],
    ['/certificates.json', 'certificates.json'],
  ] as const) {
    try {
      const answer = await fetch(address)
      if (answer.ok) return [{ name, bytes: new Uint8Array(await answer.arrayBuffer()) }]
    } catch {
      // Neither a connection nor kept here: the next may be.
    }
  }
  return []
}
