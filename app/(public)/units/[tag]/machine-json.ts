import type { RecordView } from '#floor/record/record.service'

/** schema.org data of a machine and its record, for programs that read pages; safe inside a script element. */
export function machineJson({ record, standing, lot }: RecordView, home: string): string {
  const { tag, design, sentence } = record
  const machine = {
    '@context': 'https://schema.org',
    '@type': 'IndividualProduct',
    name: `${tag}, ${design.name}`,
    serialNumber: tag,
    model: `${design.name} rev ${design.revision}`,
    description: sentence,
    url: `${home}/units/${tag}`,
    image: [`${home}/units/${tag}/card.png`, ...(lot?.photographs ?? []).map(({ sha }) => `${home}/files/${sha}-960.webp`)],
    subjectOf: [
      {
        '@type': 'Dataset',
        name: `Record of tests of ${tag}`,
        encodingFormat: 'application/json',
        url: `${home}/units/${tag}/record.json`,
      },
      ...(standing
        ? [
            {
              '@type': 'DigitalDocument',
              name: standing.serial,
              identifier: standing.serial,
              url: `${home}/certificates/${standing.serial}`,
              dateCreated: new Date(standing.issuedAt).toISOString(),
            },
          ]
        : []),
    ],
  }
  return JSON.stringify(machine).replaceAll('<', '\\u003c')
}
