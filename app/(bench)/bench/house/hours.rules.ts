import type { Instant } from '#kernel/instant'
import { MINUTE } from '#kernel/instant'
import type { Piece } from '#runtime/vitals/vital'

const PIECE_MINUTES = 5
const PLACES = 72

/** Where each piece stands among the places of the last six hours, the last of which is now; what is older is left out. */
export const placesOf = (pieces: readonly Piece[], now: Instant): (Piece & { place: number })[] =>
  pieces
    .map((piece) => ({ ...piece, place: PLACES - 1 - Math.floor((now - piece.at) / (PIECE_MINUTES * MINUTE)) }))
    .filter(({ place }) => place >= 0 && place < PLACES)

/** The strip as a sentence: "Mail, over the last 40 minutes: bad for about 10 minutes, worth a look for about 5." */
export function sayHours(name: string, pieces: readonly Piece[]): string {
  if (pieces.length === 0) return `${name}: nothing is known yet about the last few hours.`
  const minutesOf = (standing: Piece['standing']) => pieces.filter((piece) => piece.standing === standing).length * PIECE_MINUTES
  const parts = [
    { word: 'bad', minutes: minutesOf('bad') },
    { word: 'worth a look', minutes: minutesOf('look') },
  ].filter(({ minutes }) => minutes > 0)
  const told = parts.map(({ word, minutes }) => `${word} for up to ${spanOf(minutes)}`).join(', ')
  return `${name}, over the last ${spanOf(pieces.length * PIECE_MINUTES)}: ${told || 'good all the time'}.`
}

const spanOf = (minutes: number): string => {
  if (minutes < 120) return `${minutes} minutes`
  const hours = Math.round((minutes / 60) * 10) / 10
  return `${hours} hours`
}
