import { keepSweep } from '#end/deletion/keep.service'
import { sheetSweep } from '#gifts/sheets/store-sheet.service'
import { lastDaySweep } from '#money/fixed-price/last-day.sweep'
import { paymentReminderSweep } from '#money/invoices/reminders.service'
import { addressSweep } from '#money/sending/address.service'
import type { Sweep } from '#runtime/queue/ticker'
import { closingSweep } from '#sale/closings/closing.sweep'
import { dayLettersSweep } from '#sale/closings/day-letters.service'
import { traceSweep } from '#sale/fairness/traces.service'
import { noticeSweep } from '#sale/letters/notices.service'
import { reminderSweep } from '#sale/letters/reminders.service'

/** What falls due by itself, in the order in which it is looked at: the letter of the day takes news that waits. One line for each room's. */
export const SWEEPS: readonly Sweep[] = [
  closingSweep,
  reminderSweep,
  dayLettersSweep,
  noticeSweep,
  traceSweep,
  addressSweep,
  paymentReminderSweep,
  lastDaySweep,
  sheetSweep,
  keepSweep,
]
