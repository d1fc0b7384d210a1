import { type NextLowGround, saidNextLow } from "./estimates.ts";

/** When it will be low again, with its likely range. */
export function LowAgain(ground: NextLowGround) {
  const said = saidNextLow(ground);
  if (said.low_now) return <strong>Low now</strong>;
  if (said.date === null) return <>Not within 20 years</>;
  return (
    <>
      <time datetime={said.date}>{said.best}</time>
      <small>{said.range}</small>
    </>
  );
}
