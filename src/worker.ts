import { objectOf } from "./object-place.ts";
import { answer, type Bindings, passOn, type WorkspaceStub } from "./worker-app.ts";

export { WorkspaceObject } from "./workspace-object.ts";

/**
 * Passes a request on to the object of its workspace, which its key names, without looking anything up. Pages for
 * people without a key are made here, and those for a key that names no object of ours.
 */
async function fetch(request: Request, bindings: Bindings): Promise<Response> {
  const object = stubFor(request, bindings);
  return object === null ? answer(request, bindings) : passOn(request, object, bindings);
}

function stubFor(request: Request, { WORKSPACES }: Bindings): WorkspaceStub | null {
  const id = objectOf(request);
  if (id === null) return null;
  try {
    return WORKSPACES.get(WORKSPACES.idFromString(id));
  } catch (error) {
    if (error instanceof TypeError) return null;
    throw error;
  }
}

export default { fetch };
