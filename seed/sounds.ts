import { seededChance } from '#kernel/seeded'

const RATE = 8000
const SECONDS = 4
/** Long and short, with rests between: a beacon that says the same again and again. */
const BEATS = [3, -1, 1, -1, 1, -1, 3, -4]
const BEAT_SECONDS = 0.11

/** A receiver that finds a beacon in the noise, as a WAV file (RIFF, PCM of 16 bits). Nobody ever sent it. */
export function makeSound(seed: number): Buffer {
  const chance = seededChance(seed)
  const tones = BEATS.flatMap((beats) => Array<boolean>(Math.abs(beats)).fill(beats > 0))
  const samples = Buffer.alloc(2 * RATE * SECONDS)
  for (let index = 0; index < RATE * SECONDS; index++) {
    const at = index / RATE
    const isOn = tones[Math.floor(at / BEAT_SECONDS) % tones.length] === true
    const strength = Math.min(1, at / 2) * (isOn ? 9000 : 0)
    const noise = (chance() - 0.5) * 5000
    samples.writeInt16LE(Math.round(strength * Math.sin(2 * Math.PI * 650 * at) + noise), 2 * index)
  }
  const head = Buffer.alloc(44)
  head.write('RIFF', 0)
  head.writeUInt32LE(36 + samples.length, 4)
  head.write('WAVEfmt ', 8)
  head.writeUInt32LE(16, 16)
  head.writeUInt16LE(1, 20)
  head.writeUInt16LE(1, 22)
  head.writeUInt32LE(RATE, 24)
  head.writeUInt32LE(2 * RATE, 28)
  head.writeUInt16LE(2, 32)
  head.writeUInt16LE(16, 34)
  head.write('data', 36)
  head.writeUInt32LE(samples.length, 40)
  return Buffer.concat([head, samples])
}
