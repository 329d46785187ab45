import { CELL_WORDS } from './dangers.rules'
import type { Cells } from './sending.contract'

/** What becomes of the machine when nobody wants it any more. Common practice, no source; the rules of the place come first. */
export function disposalParts(cells: Cells): { heading: string; paragraphs: string[] }[] {
  const hasCells = cells !== 'none' && cells !== 'unsaid'
  return [
    {
      heading: 'Before anything else',
      paragraphs: [
        'Somebody may still want it. It was made to be mended: its record says what is in every position, and the people who built it can be asked. Give it on before you give it up.',
      ],
    },
    {
      heading: 'Not in the household bin',
      paragraphs: [
        'It holds boards, wires and solder, and belongs with electrical and electronic waste. Most places collect that apart, many shops take it back. Ask your council or your recycling centre how it is done where you live.',
        'Older parts may hold lead, cadmium or other metals that must not get into the ground. Do not burn it, and do not take parts off with heat in a closed room.',
      ],
    },
    {
      heading: hasCells ? 'Its cells go another way' : 'If you have put cells in it',
      paragraphs: [
        ...(hasCells ? [`When it left the bench: ${CELL_WORDS[cells].toLowerCase()}.`] : []),
        'Take cells out first and bring them to where cells are collected. Tape over the terminals of lithium cells. A swollen, hot or leaking cell is not charged, not opened and not posted: put it outside, on stone, and ask the fire service or the recycling centre.',
      ],
    },
    {
      heading: 'Charged parts',
      paragraphs: [
        'Unplug it and let it stand. Capacitors can hold a charge after it is switched off; whoever opens it should know how to discharge them.',
      ],
    },
  ]
}
