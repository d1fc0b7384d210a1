import { openDefinitionsOnHover } from "./behavior/definitions.ts";
import { focusAfterChange } from "./behavior/focus.ts";

openDefinitionsOnHover();
focusAfterChange();
