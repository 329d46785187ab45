import { CELL_WORDS } from './dangers.rules'
import type { Cells } from './sending.contract'

/** What becomes of the machine when nobody wants it any more. Common practice, no source; the rules of the place come first. */
export function disposalParts(cells: Cells): { heading: string; paragraphs: string[] }[] {
  const hasCells = cells !== 'none' && cells !== 'unsaid'
  return [
    {
      heading: 'Before anything else',
      paragraphs: [
        'Somebody may still want it. It was made to be mended: its record says what is in every position, and you can ask the people who built it. Pass it on rather than throw it away.',
      ],
    },
    {
      heading: 'Not in the household bin',
      paragraphs: [
        'It holds boards, wires and solder, and belongs with electrical and electronic waste. Most places collect that separately, and many shops take it back. Ask your council or recycling centre what to do where you live.',
        'Older parts may hold lead, cadmium or other metals that must not get into the ground. Do not burn it, and do not unsolder parts in a closed room.',
      ],
    },
    {
      heading: hasCells ? 'Dispose of its cells separately' : 'If you have put cells in it',
      paragraphs: [
        ...(hasCells ? [`When it left the bench: ${CELL_WORDS[cells].toLowerCase()}.`] : []),
        'Take the cells out first and take them to a battery collection point. Tape over the terminals of lithium cells. Never charge, open or post a swollen, hot or leaking cell: put it outside, on stone, and ask the fire service or the recycling centre.',
      ],
    },
    {
      heading: 'Charged parts',
      paragraphs: [
        'Unplug it and leave it to stand. Capacitors can hold a charge after it is switched off; whoever opens it should know how to discharge them.',
      ],
    },
  ]
}
