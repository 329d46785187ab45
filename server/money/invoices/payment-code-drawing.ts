import type { Paper } from '#paper/paper'
import { drawQr } from '#paper/qr'

const SIDE = 122

/** So much must be left of a page where a payment code is to stand, in points. */
export const CODE_ROOM = SIDE + 40

/** The width of what stands at the left of a payment code, in points. */
export const beside = (paper: Paper): number => paper.width - SIDE - 16

/** The payment code of EPC069-12 at the right of what was set from `top` on, with what it is for in words under it. */
export function setPaymentCode(paper: Paper, top: number, { text, words, alt }: { text: string; words: string; alt: string }): void {
  const x = paper.left + paper.width - SIDE
  paper
    .element('Figure', undefined, { alt, bbox: [x, top, x + SIDE, top + SIDE], placement: 'Block' })
    .add(() => drawQr(paper.doc, text, x, top, SIDE))
    .end()
  const under = paper.y
  paper.y = top + SIDE
  paper.text('P', [{ text: `Payment code (EPC069-12)${words}` }], { size: 8, width: SIDE, x })
  paper.y = Math.max(under, paper.y)
}
