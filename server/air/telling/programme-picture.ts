import { Letters } from '#paper/letters'
import { CARD, COPPER, COPPER_INK, EDGE, HEIGHT, INK, PAPER, pngOf, QUIET, WIDTH } from '#paper/picture'

/** The picture that stands beside a link to the programme: the day as a wire with its next closings, 1200 × 630. */
export interface ProgrammePictureOrder {
  of: 'programme-picture'
  name: string
  /** "Saturday 13 March 2027, 08:00 to 20:00 in London" */
  when: string
  rows: readonly { clock: string; words: string; isOver: boolean }[]
  foot: string
}

declare module '#paper/order' {
  interface Papers {
    'programme-picture': ProgrammePictureOrder
  }
}

const LEFT = 84
const ROOM = WIDTH - LEFT - 70

export const setProgrammePicture = (order: ProgrammePictureOrder): Promise<Buffer> => pngOf(programmeSvg(order))

function programmeSvg(order: ProgrammePictureOrder): string {
  const letters = new Letters()
  const one = (text: string, face: 'text' | 'bold', size: number, room = ROOM) => letters.lines(text, face, size, room, 1)[0] ?? ''
  const from = 262
  const pitch = 68
  const last = from + pitch * (order.rows.length - 1)
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${WIDTH}" height="${HEIGHT}"><rect width="100%" height="100%" fill="${PAPER}"/>`,
    `<rect x="36" y="36" width="${WIDTH - 72}" height="${HEIGHT - 72}" fill="${CARD}" stroke="${EDGE}" stroke-width="2"/>`,
    letters.line(one(order.name, 'bold', 60), { x: LEFT, y: 118, size: 60, face: 'bold', colour: INK }),
    letters.line(one(order.when, 'text', 36), { x: LEFT, y: 176, size: 36, face: 'text', colour: COPPER_INK }),
    order.rows.length > 1 ? `<path d="M${LEFT + 13} ${from - 14}V${last - 14}" stroke="${COPPER}" stroke-width="6"/>` : '',
    ...order.rows.flatMap(({ clock, words, isOver }, index) => {
      const y = from + index * pitch
      return [
        `<circle cx="${LEFT + 13}" cy="${y - 14}" r="12" fill="${isOver ? COPPER : CARD}" stroke="${COPPER}" stroke-width="6"/>`,
        letters.line(clock, { x: LEFT + 50, y, size: 42, face: 'codeBold', colour: isOver ? QUIET : INK }),
        letters.line(one(words, 'text', 38, ROOM - 220), { x: LEFT + 210, y, size: 38, face: 'text', colour: isOver ? QUIET : INK }),
      ]
    }),
    letters.line(one(order.foot, 'text', 30), { x: LEFT, y: HEIGHT - 66, size: 30, face: 'text', colour: QUIET }),
    '</svg>',
  ].join('')
}
