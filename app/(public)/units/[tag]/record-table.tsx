'use client'

import { Readings } from '#app/_ui/readings.tsx'
import type { RecordRow } from './record-row.rules'

/** Drawn on the server like any page, and sent as rows: as elements every gauge would travel twice. */
export function RecordTable({ rows }: { rows: readonly RecordRow[] }) {
  return (
    <Readings
      caption="Current readings"
      rows={rows.map(([check, name, shown, verdict, plain, particulars, scale]) => ({
        check,
        name,
        shown,
        verdict,
        note: (
          <>
            {plain}
            <br />
            {particulars}
          </>
        ),
        ...(scale && { gauge: { value: scale[0], lower: scale[1], upper: scale[2], nominal: scale[3], doubt: scale[4], unit: scale[5] } }),
      }))}
    />
  )
}
