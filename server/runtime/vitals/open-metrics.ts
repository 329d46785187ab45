import type { OpenMetricsContentType } from 'prom-client'
import type { Figure, Vital } from './vital'
import { WORSE } from './vital'

export interface Figures {
  type: string
  body: string
}

/**
 * What is watched as figures in the text format OpenMetrics 1.0. One that cannot be measured at present is left out, as that
 * asks. The library is read when somebody asks for the first time, since a bid does not wait for it.
 */
export async function writeFigures(vitals: readonly Vital[]): Promise<Figures> {
  const { Gauge, Registry } = await import('prom-client')
  const registry = new Registry<OpenMetricsContentType>()
  registry.setContentType(Registry.OPENMETRICS_CONTENT_TYPE)
  const gauge = ({ key, unit, help, value }: Figure) => new Gauge({ name: nameOf(key, unit), help, registers: [registry] }).set(value)
  const standing = new Gauge({
    name: 'tagstrip_standing',
    help: 'How each of what is watched stands: 0 good, 1 worth a look, 2 bad.',
    labelNames: ['vital'],
    registers: [registry],
  })
  for (const { key, unit, help, value, also = [], ...vital } of vitals) {
    standing.set({ vital: key }, WORSE[vital.standing])
    if (value !== null) gauge({ key, unit, help, value })
    for (const figure of also) gauge(figure)
  }
  return { type: registry.contentType, body: await registry.metrics() }
}

/** A figure's unit ends its name. */
const nameOf = (key: string, unit: Figure['unit']): string => `tagstrip_${key.replaceAll('-', '_')}${unit === 'count' ? '' : `_${unit}`}`
