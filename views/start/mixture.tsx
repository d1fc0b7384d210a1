import { ouncesFromGrams, type UnitSystem } from "../../src/core/quantities/units.ts";
import type { AssessRequest, Verdict } from "../../src/core/question/contract.ts";
import { answerWords } from "../words/answer-words.ts";
import { Whole } from "../words/said.tsx";

/** What each supposition says alone, where the answer is one over several. */
export type Mixture = readonly { weight: number; request: AssessRequest; verdict: Verdict; low_now: boolean }[];

interface MixtureNoteProps {
  mixture: Mixture;
  /** The supposition whose sizes and dates the page shows. */
  shown: AssessRequest["vehicle"];
  units: UnitSystem;
}

/** Says that the answer covers what is not known, whether that matters, and what may not be done before it is known. */
export function MixtureNote({ mixture, shown, units }: MixtureNoteProps) {
  const refrigerants = new Set(mixture.map(({ request }) => request.vehicle.refrigerant));
  const sizes = new Set(mixture.map(({ request }) => request.vehicle.nameplate_g));
  const name = ({ refrigerant, nameplate_g }: AssessRequest["vehicle"]) =>
    [
      ...(refrigerants.size > 1 ? [refrigerant] : []),
      ...(sizes.size > 1 || refrigerants.size === 1 ? [saidSize(nameplate_g, units)] : []),
    ].join(" with ");
  const likely = [...refrigerants].map((refrigerant) => {
    const of_it = mixture.filter(({ request }) => request.vehicle.refrigerant === refrigerant);
    const masses = [...new Set(of_it.map(({ request }) => saidSize(request.vehicle.nameplate_g, units)))].join(", ");
    return refrigerants.size === 1 ? masses : sizes.size === 1 ? refrigerant : `${refrigerant} with ${masses}`;
  });
  const answers = new Map<string, Set<string>>();
  for (const one of mixture) {
    const answer = answers.get(name(one.request.vehicle)) ?? new Set();
    answers.set(name(one.request.vehicle), answer.add(lower(wordsOf(one))));
  }
  const different = new Set([...answers.values()].flatMap((words) => [...words]));
  return (
    <div class="mixture" id="mixture">
      <p>
        {unknownOf(refrigerants.size > 1, sizes.size > 1)}, so this answer covers the likely ones: {likely.join("; ")}.{" "}
        {different.size === 1
          ? "Each of them gives the same answer."
          : `They do not agree: ${[...answers].map(([which, words]) => `${which}: ${[...words].join(" or ")}`).join("; ")}.`}{" "}
        The charts show {name(shown)}.
      </p>
      {refrigerants.size > 1 && (
        <p class="step-caution">
          Read the label under the hood before you buy or add anything. <Whole>R-134a</Whole> and{" "}
          <Whole>R-1234yf</Whole> must never be mixed, and <Whole>R-1234yf</Whole> is flammable.
        </p>
      )}
    </div>
  );
}

function unknownOf(refrigerant: boolean, size: boolean): string {
  if (refrigerant && size) return "You don't know the refrigerant or the nameplate charge";
  return refrigerant ? "You don't know the refrigerant" : "You don't know the nameplate charge";
}

function wordsOf({ request, verdict, low_now }: Mixture[number]): string {
  return answerWords({ verdict, low_now, no_entries: (request.log ?? []).length === 0 });
}

/** A typical size: whole ounces, or tens of grams. */
function saidSize(grams: number, units: UnitSystem): string {
  return units === "us" ? `${Math.round(ouncesFromGrams(grams))} oz` : `${Math.round(grams)} g`;
}

function lower(words: string): string {
  return words.charAt(0).toLowerCase() + words.slice(1);
}
