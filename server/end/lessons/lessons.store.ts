import { preparedFor } from '#db/prepared'
import type { Instant } from '#kernel/instant'
import type { FaultLesson } from './lessons.contract'

/** Sums over many rows, each made by SQL at once. A fitting that was undone as a mistake never was one. */
export const lessonsFrom = preparedFor(({ $client }) => ({
  faults: $client.prepare<[Instant, Instant], FaultLesson>(
    `SELECT design.name AS designName, coalesce(fault.block, '') AS block, fault.cause, count(*) AS faults,
       sum(coalesce(fault.minutes, 0)) AS minutes
     FROM fault JOIN unit ON unit.id = fault.unit_id JOIN run ON run.id = unit.run_id
       JOIN design ON design.id = coalesce(unit.design_id, run.design_id)
     WHERE fault.closed_at >= ? AND fault.closed_at < ? AND fault.cause IS NOT NULL
     GROUP BY design.key, coalesce(fault.block, ''), fault.cause ORDER BY faults DESC, minutes DESC, designName, fault.block`,
  ),
  checks: $client.prepare<[Instant, Instant], { taken: number; failed: number }>(
    `SELECT count(*) AS taken, coalesce(sum(verdict IN ('fail', 'fail within doubt')), 0) AS failed FROM reading WHERE at >= ? AND at < ?`,
  ),
  /** By quarters of an hour, of which every offset of a zone is a multiple. */
  bids: $client.prepare<[number], { at: Instant; bids: number }>(
    `SELECT bid.at / 900000 * 900000 AS at, count(*) AS bids FROM bid JOIN lot ON lot.id = bid.lot_id
       LEFT JOIN alias ON alias.lot_id = bid.lot_id AND alias.person_id = bid.person_id
     WHERE lot.campaign_number = ? AND alias.voided_at IS NULL GROUP BY 1`,
  ),
  gifts: $client.prepare<
    [Instant, Instant],
    { giftId: string; partId: string | null; words: string; arrivedAt: Instant; firstAt: Instant | null }
  >(
    `SELECT gift.id AS giftId, gift.part_id AS partId, gift.words, gift.arrived_at AS arrivedAt,
       (SELECT min(fitting.at) FROM batch JOIN fitting ON fitting.batch_id = batch.id
        WHERE batch.gift_id = gift.id AND (fitting.out_at IS NULL OR fitting.out_rework_id IS NOT NULL)) AS firstAt
     FROM gift WHERE kind = 'parts' AND arrived_at >= ? AND arrived_at < ? AND state NOT IN ('promised', 'on its way', 'declined')
     ORDER BY arrived_at`,
  ),
  givers: $client.prepare<[Instant, Instant], { donorId: string; name: string }>(
    `SELECT DISTINCT donor.id AS donorId, donor.name FROM gift JOIN donor ON donor.id = gift.donor_id
     WHERE donor.is_stand_in = 0 AND gift.state NOT IN ('promised', 'on its way', 'declined')
       AND coalesce(gift.arrived_at, gift.at) >= ? AND coalesce(gift.arrived_at, gift.at) < ?`,
  ),
  used: $client.prepare<[], { unitId: string; partId: string; used: number }>(
    `SELECT fitting.unit_id AS unitId, batch.part_id AS partId, count(*) AS used FROM fitting JOIN batch ON batch.id = fitting.batch_id
     WHERE fitting.out_at IS NULL OR fitting.out_rework_id IS NOT NULL GROUP BY fitting.unit_id, batch.part_id`,
  ),
}))
