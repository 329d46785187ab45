import Link from 'next/link'
import { Notice } from '../notice'

/** For the staff: what they see and do here is of an earlier campaign, until they go back. */
export const AtWorkIn = ({ name }: { name: string }) => (
  <Notice tone="doubt" title={`You are at work in ${name}, which is over`}>
    <p>
      Its books, papers and letters are here, and what you book is booked there.{' '}
      <Link href="/bench/campaign" className="alone">
        Go back to the present campaign
      </Link>
    </p>
  </Notice>
)
