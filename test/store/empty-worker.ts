/** A Worker that only holds a database, so that the store's tests need nothing built. */
export default { fetch: () => new Response(null, { status: 404 }) };
