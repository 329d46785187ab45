'use client'

import { api } from '#app/_trpc/client.ts'
import { IssueForm, type IssueFormProps } from '#app/_ui/issue-form.tsx'

/** A buyer has their own issued. */
export const MyIssueForm = (props: Omit<IssueFormProps, 'issue' | 'isOwn'>) => (
  <IssueForm {...props} isOwn issue={api.documents.issueMine.mutate} />
)
