import { WAITING_ID, WAITING_PATH, type WaitingQuestion } from "../../words/on-device.ts";
import { linkTo, showStatusLine } from "./status-line.ts";

/** A browser reports a connection before there is one: how often sending is tried, and the pause between tries. */
const TRIES = 6;
const NEXT_TRY_MS = 5000;

/** Says on each page how many entries wait on this device, and has them sent as soon as there is a connection again. */
export function sayWhatWaits(): void {
  if (document.documentElement.dataset.device === undefined) return;
  ask({ send: false }, say);
  addEventListener("online", () => send(TRIES));
}

function send(tries: number): void {
  ask({ send: true }, (words) => {
    say(words);
    if (words !== null && tries > 1) setTimeout(send, NEXT_TRY_MS, tries - 1);
  });
}

function ask(question: WaitingQuestion, told: (words: string | null) => void): void {
  const worker = navigator.serviceWorker?.controller;
  if (!worker) return;
  const { port1, port2 } = new MessageChannel();
  port1.onmessage = ({ data }: MessageEvent<string | null>) => told(data);
  worker.postMessage(question, [port2]);
}

function say(words: string | null): void {
  if (words === null || location.pathname === WAITING_PATH) document.getElementById(WAITING_ID)?.remove();
  else showStatusLine(WAITING_ID, linkTo(WAITING_PATH, words));
}
