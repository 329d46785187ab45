import type { ComponentProps } from 'react'
import { When } from '#app/_ui/when.tsx'
import { postalLines } from '#money/sending/postal.rules'
import type { MyParcel } from '#money/sending/sending.contract'
import { AddressForm } from './address-form'
import styles from './won.module.css'

/** The address of the parcel, and the form that says or changes it until it has left. */
export function WhereItGoes({
  mine,
  zone,
  ...asked
}: { mine: MyParcel; zone: string } & Omit<ComponentProps<typeof AddressForm>, 'address'>) {
  return (
    <section className={mine.address ? 'sheet stack' : 'sheet act stack'} aria-labelledby="where">
      <h2 id="where">Where it goes</h2>
      {mine.address && <address className={styles.address}>{postalLines(mine.address).join('\n')}</address>}
      {mine.sentAt === null &&
        (mine.address ? (
          <details>
            <summary>Change it</summary>
            <AddressForm {...asked} address={mine.address} />
          </details>
        ) : (
          <AddressForm {...asked} address={null} />
        ))}
      <p className="small quiet">
        Seen only by whoever sends it, never put in an email, and deleted after <When at={mine.addressesKeptUntil} zone={zone} show="day" />
        .
      </p>
    </section>
  )
}
