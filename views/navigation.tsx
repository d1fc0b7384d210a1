import { type Child, createContext, useContext } from "hono/jsx";
import { Mark } from "./mark.tsx";
import { type Place, Places } from "./parts/places.tsx";

/** Who the pages are for: it decides which links come first, and nothing else. */
export const PERSONS = ["vehicle", "shop", "fleet"] as const;
export type Person = (typeof PERSONS)[number];

/** Whom the pages are for, as chosen once; null before a choice. */
const PersonContext = createContext<Person | null>(null);

/** A page for this person. */
export function ForPerson({ person, children }: { person: Person | null; children: Child }) {
  return <PersonContext.Provider value={person}>{children}</PersonContext.Provider>;
}

const QUESTION: Place = { href: "/", name: "Question" };
const READINGS: Place = { href: "/readings", name: "Readings" };
const VEHICLES: Place = { href: "/vehicles", name: "Vehicles" };
const LEAK_TESTS: Place = { href: "/leak-tests", name: "Leak tests" };
const FLEET: Place = { href: "/fleet", name: "Fleet" };
const BUDGET: Place = { href: "/fleet/budget", name: "Budget" };
const QUOTES: Place = { href: "/quotes", name: "Quotes" };
const CUSTOMERS: Place = { href: "/customers", name: "Customers" };
const INVOICES: Place = { href: "/invoices", name: "Invoices" };
const REFRIGERANT: Place = { href: "/refrigerant", name: "Refrigerant log" };
const PRICES: Place = { href: "/prices", name: "Prices" };
const RULES: Place = { href: "/rules", name: "Rules" };
const METHOD: Place = { href: "/method", name: "Method" };
const SETTINGS: Place = { href: "/settings", name: "Settings" };
const FOLLOW_UPS: Place = { href: "/follow-ups", name: "Follow-ups" };
const TODAY: Place = { href: "/shop", name: "Today" };

interface PersonPlaces {
  name: string;
  home: string;
  /** At most four: "More" is the fifth. */
  first: readonly Place[];
  more: readonly Place[];
}

/** The links that each needs first; the rest is under "More". */
export const PERSON_PLACES: Readonly<Record<Person, PersonPlaces>> = {
  vehicle: {
    name: "My vehicle",
    home: "/",
    first: [QUESTION, VEHICLES, READINGS],
    more: [LEAK_TESTS, RULES, METHOD, SETTINGS, QUOTES, PRICES, FLEET],
  },
  shop: {
    name: "A shop",
    home: "/shop",
    first: [TODAY, CUSTOMERS, VEHICLES, QUOTES],
    more: [FOLLOW_UPS, INVOICES, REFRIGERANT, PRICES, QUESTION, READINGS, LEAK_TESTS, RULES, METHOD, SETTINGS, FLEET],
  },
  fleet: {
    name: "A fleet",
    home: "/fleet",
    first: [FLEET, BUDGET, VEHICLES, PRICES],
    more: [QUESTION, READINGS, LEAK_TESTS, QUOTES, RULES, METHOD, SETTINGS],
  },
};

/** The top of every page: the name, what this person needs first, and the rest. */
export function Masthead({ path }: { path: string }) {
  const person = useContext(PersonContext) ?? "vehicle";
  const { home, first, more } = PERSON_PLACES[person];
  return (
    <header class="masthead">
      <a class="wordmark" href={home}>
        <Mark />
        Seepwise
      </a>
      <nav aria-label="Main menu">
        <Places class="places" places={first} path={path}>
          <li>
            <details class="more-places" name="more-places">
              <summary class={more.some(({ href }) => href === path) ? "current" : undefined}>More</summary>
              <div class="more-sheet">
                <Places places={more} path={path} />
                <PersonChoice label="Links for:" />
              </div>
            </details>
          </li>
        </Places>
      </nav>
    </header>
  );
}

/** Who it is for, one press each. */
function PersonChoice({ label }: { label: string }) {
  const person = useContext(PersonContext);
  return (
    <div class="person">
      <span class="hint">{label}</span>
      {PERSONS.map((one) => (
        <a class="size" href={`/person?is=${one}`} rel="nofollow" aria-current={one === person ? "true" : undefined}>
          {PERSON_PLACES[one].name}
        </a>
      ))}
    </div>
  );
}

/** The same on the first page, until someone has chosen. */
export function FirstChoice() {
  return useContext(PersonContext) === null ? <PersonChoice label="This is for" /> : null;
}
