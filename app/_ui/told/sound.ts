'use client'

import { useSyncExternalStore } from 'react'

const KEPT_AS = 'tagstrip-sound'
const listeners = new Set<() => void>()
/** A browser may forbid its storage: then the switch stands as long as the page. */
let unkept = false

function subscribe(changed: () => void): () => void {
  listeners.add(changed)
  addEventListener('storage', changed)
  return () => {
    listeners.delete(changed)
    removeEventListener('storage', changed)
  }
}

function read(): boolean {
  try {
    return localStorage.getItem(KEPT_AS) === 'on' || unkept
  } catch {
    return unkept
  }
}

/** Whether this device makes itself heard; switched on by its reader alone. */
export const useSound = (): boolean => useSyncExternalStore(subscribe, read, () => false)

export function keepSound(isOn: boolean): void {
  unkept = isOn
  try {
    if (isOn) localStorage.setItem(KEPT_AS, 'on')
    else localStorage.removeItem(KEPT_AS)
  } catch {
    // Kept for this page alone.
  }
  for (const changed of listeners) changed()
}

let speaker: AudioContext | null = null

/** Two short tones, and two short shakes where the device can. A browser lets a page sound once its reader has tapped it. */
export function sound(): void {
  navigator.vibrate?.([180, 90, 180])
  speaker ??= new AudioContext()
  const { currentTime: now, destination } = speaker
  for (const [after, pitch] of [
    [0, 660],
    [0.22, 880],
  ] as const) {
    const tone = speaker.createOscillator()
    const loudness = speaker.createGain()
    tone.frequency.value = pitch
    loudness.gain.setValueAtTime(0.0001, now + after)
    loudness.gain.exponentialRampToValueAtTime(0.3, now + after + 0.02)
    loudness.gain.exponentialRampToValueAtTime(0.0001, now + after + 0.18)
    tone.connect(loudness).connect(destination)
    tone.start(now + after)
    tone.stop(now + after + 0.2)
  }
  speaker.resume().catch(() => {})
}
