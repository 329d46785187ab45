'use client'

import { useRouter } from 'next/navigation'
import { useCallback, useEffect, useRef, useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import { readCode } from './read-code'
import styles from './scan.module.css'

const LOOK_EVERY_MS = 200

type Camera = 'off' | 'asking' | 'looking' | 'none'

/** Opens what a label names: by the camera, by a picture of it, or by typing what stands below its code. */
export function Scanner() {
  const router = useRouter()
  const video = useRef<HTMLVideoElement>(null)
  const [camera, setCamera] = useState<Camera>('off')
  const [words, setWords] = useState('')
  const { run, pending, refusal } = useCommand(api.tags.find.query)
  const opening = useRef(false)

  const open = useCallback(
    async (code: string) => {
      if (opening.current) return undefined
      opening.current = true
      const found = await run({ code })
      if (found) router.push(found.href)
      else opening.current = false
      return found
    },
    [run, router],
  )

  useEffect(() => {
    if (camera !== 'asking') return
    let stream: MediaStream | null = null
    let timer: ReturnType<typeof setInterval> | null = null
    let isGone = false
    let seen = ''
    const start = async () => {
      try {
        stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: 'environment' } })
      } catch {
        // Refused, or there is none: the picture and the keyboard are left.
        if (!isGone) setCamera('none')
        return
      }
      const shown = video.current
      if (isGone || !shown) {
        for (const track of stream.getTracks()) track.stop()
        return
      }
      shown.srcObject = stream
      await shown.play().catch(() => setCamera('none'))
      setWords('Hold the label in the frame.')
      timer = setInterval(() => {
        const said = shown.videoWidth > 0 ? readCode(shown, shown.videoWidth, shown.videoHeight) : null
        // The same label is asked for once: a wrong one would be asked for at every look.
        if (said && said !== seen) {
          seen = said
          void open(said)
        }
      }, LOOK_EVERY_MS)
    }
    void start()
    return () => {
      isGone = true
      if (timer) clearInterval(timer)
      for (const track of stream?.getTracks() ?? []) track.stop()
    }
  }, [camera, open])

  const fromPicture = async (file: File | undefined) => {
    const bitmap = file && (await createImageBitmap(file).catch(() => null))
    if (!bitmap) return
    const said = readCode(bitmap, bitmap.width, bitmap.height)
    if (said) await open(said)
    else setWords('No code was found in that picture. Move closer, or type the tag.')
  }

  const hasCamera = typeof navigator !== 'undefined' && navigator.mediaDevices !== undefined
  return (
    <>
      {camera === 'asking' ? (
        <video ref={video} className={styles.frame} muted playsInline aria-label="What the camera sees" />
      ) : (
        <button type="button" className="button" onClick={() => setCamera(hasCamera ? 'asking' : 'none')}>
          Open the camera
        </button>
      )}
      {camera === 'none' && (
        <Notice tone="doubt" title="The camera cannot be used here">
          <p>It needs a secure address and your permission. Take a picture of the label instead, or type its tag.</p>
        </Notice>
      )}
      <p role="status" className="small quiet">
        {words}
      </p>
      <label className={styles.picture}>
        A picture of the label
        <input type="file" accept="image/*" capture="environment" onChange={(event) => void fromPicture(event.currentTarget.files?.[0])} />
      </label>
      <CommandForm label="Tag" run={(form) => open(form.text('code'))} pending={pending} refusal={refusal}>
        <TextField
          name="code"
          label="Or type the tag"
          hint="As printed below the code, such as P-0012-H."
          width="short"
          mono
          maxLength={300}
          autoComplete="off"
        />
        <SubmitButton kind="line">Open it</SubmitButton>
      </CommandForm>
    </>
  )
}
