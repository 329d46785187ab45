import { closingSweep } from './bidding/closing.sweep'
import { reminderSweep } from './bidding/reminders.service'
import { traceSweep } from './bidding/traces.service'
import { paymentReminderSweep } from './invoices/reminders.service'
import type { Sweep } from './runtime/ticker'
import { addressSweep } from './sending/address.service'

/** What falls due by itself, in the order in which it is looked at. One line for each room's. */
export const SWEEPS: readonly Sweep[] = [closingSweep, reminderSweep, traceSweep, addressSweep, paymentReminderSweep]
