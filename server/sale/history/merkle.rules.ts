import { bytesToHex } from '@noble/hashes/utils.js'
import { sha256 } from '#kernel/sha256'

/** Merkle trees as RFC 6962 section 2.1 hashes them (the same as RFC 9162). */
export type Hash = Uint8Array

export function leafHash(data: Uint8Array): Hash {
  const bytes = new Uint8Array(1 + data.length)
  bytes.set(data, 1)
  return sha256(bytes)
}

/** The same of a text in UTF-8, in which the nought before it is a sign like any other. */
export const leafHashOfText = (text: string): Hash => sha256(`\0${text}`)

export function nodeHash(left: Hash, right: Hash): Hash {
  const bytes = new Uint8Array(1 + left.length + right.length)
  bytes[0] = 1
  bytes.set(left, 1)
  bytes.set(right, 1 + left.length)
  return sha256(bytes)
}

/** The roots of the perfect subtrees that a tree of some size falls into, largest first: all that appending needs. */
export type Peaks = readonly Hash[]

/** The peaks after one more leaf, of a tree that had `size` leaves. */
export function append(peaks: Peaks, size: number, leaf: Hash): Hash[] {
  const next = [...peaks]
  let right = leaf
  for (let bit = size; bit % 2 === 1; bit = (bit - 1) / 2) {
    const left = next.pop()
    if (!left) break
    right = nodeHash(left, right)
  }
  return [...next, right]
}

export const rootOfPeaks = (peaks: Peaks): Hash =>
  peaks.length === 0 ? sha256(new Uint8Array()) : peaks.reduceRight((right, left) => nodeHash(left, right))

/** The peaks after `leaves` have been appended together, and the inclusion path of the first of them in the grown tree. */
export function grow(peaks: Peaks, size: number, leaves: readonly Hash[]): { peaks: Hash[]; path: Hash[] } {
  const next = [...peaks]
  const path: Hash[] = []
  let place = -1
  for (const [index, leaf] of leaves.entries()) {
    let right = leaf
    let holdsFirst = index === 0
    for (let bit = size + index; bit % 2 === 1; bit = (bit - 1) / 2) {
      const left = next.pop()
      if (!left) break
      if (holdsFirst) path.push(left)
      else if (place === next.length) {
        path.push(right)
        holdsFirst = true
      }
      right = nodeHash(left, right)
    }
    next.push(right)
    if (holdsFirst) place = next.length - 1
  }
  const after = next.slice(place + 1)
  return { peaks: next, path: [...path, ...(after.length > 0 ? [rootOfPeaks(after)] : []), ...next.slice(0, place).reverse()] }
}

export function rootOf(leaves: readonly Hash[]): Hash {
  let peaks: Hash[] = []
  for (const [size, leaf] of leaves.entries()) peaks = append(peaks, size, leaf)
  return rootOfPeaks(peaks)
}

/** RFC 6962 2.1.1: the hashes that lead from leaf `index` to the root of all `leaves`, lowest first. */
export function inclusionPath(leaves: readonly Hash[], index: number): Hash[] {
  if (leaves.length <= 1) return []
  const split = splitOf(leaves.length)
  const [left, right] = [leaves.slice(0, split), leaves.slice(split)]
  return index < split ? [...inclusionPath(left, index), rootOf(right)] : [...inclusionPath(right, index - split), rootOf(left)]
}

export interface Inclusion {
  index: number
  size: number
  leaf: Hash
  path: readonly Hash[]
}

/** RFC 9162 2.1.3.2: true when the path leads from the leaf to this root and to no other. */
export function isIncluded({ index, size, leaf, path }: Inclusion, root: Hash): boolean {
  if (!Number.isSafeInteger(index) || index < 0 || index >= size) return false
  let [node, last, hash] = [index, size - 1, leaf]
  for (const step of path) {
    if (last === 0) return false
    if (node % 2 === 1 || node === last) {
      hash = nodeHash(step, hash)
      while (node % 2 === 0 && node !== 0) [node, last] = [node / 2, Math.floor(last / 2)]
    } else {
      hash = nodeHash(hash, step)
    }
    node = Math.floor(node / 2)
    last = Math.floor(last / 2)
  }
  return last === 0 && bytesToHex(hash) === bytesToHex(root)
}

/** RFC 6962 2.1.2: for each of some sizes, the hashes that show that so many of all `leaves` led to the root that they had then. */
export function consistencyPaths(leaves: readonly Hash[], sizes: readonly number[]): Hash[][] {
  /** Subtrees by their place and size: each is hashed once, however many sizes are asked for. */
  const known = new Map<string, Hash>()
  const rootBetween = (start: number, end: number): Hash => {
    const leaf = leaves[start]
    if (end - start === 1 && leaf) return leaf
    const name = `${start} ${end}`
    const middle = start + splitOf(end - start)
    const root = known.get(name) ?? nodeHash(rootBetween(start, middle), rootBetween(middle, end))
    known.set(name, root)
    return root
  }
  const pathOf = (start: number, end: number, from: number, isWhole: boolean): Hash[] => {
    if (from === end) return isWhole ? [] : [rootBetween(start, end)]
    const middle = start + splitOf(end - start)
    return from <= middle
      ? [...pathOf(start, middle, from, isWhole), rootBetween(middle, end)]
      : [...pathOf(middle, end, from, false), rootBetween(start, middle)]
  }
  return sizes.map((from) => (from >= leaves.length ? [] : pathOf(0, leaves.length, from, true)))
}

/** The largest power of two below a size. */
function splitOf(size: number): number {
  let split = 1
  while (split * 2 < size) split *= 2
  return split
}

export interface Consistency {
  from: number
  size: number
  path: readonly Hash[]
}

/** RFC 9162 2.1.4.2: true when the path leads from the earlier root and to the later one. */
export function isConsistent({ from, size, path }: Consistency, earlier: Hash, later: Hash): boolean {
  const isSame = (one: Hash | undefined, other: Hash) => one !== undefined && bytesToHex(one) === bytesToHex(other)
  if (!Number.isSafeInteger(from) || !Number.isSafeInteger(size) || from < 1 || from > size) return false
  if (from === size) return path.length === 0 && isSame(earlier, later)
  const isPowerOfTwo = Number.isInteger(Math.log2(from))
  const [first, ...rest] = isPowerOfTwo ? [earlier, ...path] : path
  if (first === undefined) return false
  let [node, last] = [from - 1, size - 1]
  while (node % 2 === 1) [node, last] = [Math.floor(node / 2), Math.floor(last / 2)]
  let [before, now] = [first, first]
  for (const step of rest) {
    if (last === 0) return false
    if (node % 2 === 1 || node === last) {
      before = nodeHash(step, before)
      now = nodeHash(step, now)
      while (node % 2 === 0 && node !== 0) [node, last] = [Math.floor(node / 2), Math.floor(last / 2)]
    } else {
      now = nodeHash(now, step)
    }
    ;[node, last] = [Math.floor(node / 2), Math.floor(last / 2)]
  }
  return last === 0 && isSame(before, earlier) && isSame(now, later)
}
