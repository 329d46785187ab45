import { Notice } from '../notice'

/** For the staff: what to do so that more screens can follow. */
export const FewFiles = ({ limit }: { limit: number }) => (
  <Notice tone="doubt" title="More screens want to follow than this house may keep open">
    <p>
      The system lets the house hold {limit} files open, and each screen that follows is one of them. Some were turned away in the last ten
      minutes; bids and pages have files of their own and go on. Whoever runs the machine can allow more before the next start:
      LimitNOFILE=65536 in the unit of systemd, or ulimit -n 65536 in the shell.
    </p>
  </Notice>
)
