import type { CopyMeans } from '../settings/copy-settings'
import type { CopyTo } from '../settings/copy-to.rules'
import { openFolderPlace } from './folder-place'
import type { Place } from './place'
import { openS3Place } from './s3-place'
import { openSftpPlace } from './sftp-place'

export function openPlace(to: CopyTo, means: CopyMeans): Place {
  if (to.kind === 'folder') return openFolderPlace(to.path)
  return to.kind === 'sftp' ? openSftpPlace(to, means) : openS3Place(to, means)
}
