import { controlsFollowServer } from "./behavior/controls.ts";
import { openDefinitionsOnHover } from "./behavior/definitions.ts";
import { focusAfterChange } from "./behavior/focus.ts";

openDefinitionsOnHover();
controlsFollowServer();
focusAfterChange();
