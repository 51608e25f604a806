/** What the app is not. */
export const Caution = () => (
  <p class="note start-caution">
    Lehrbook is a log and gives advice. It controls no furnace and no hoist. Local codes, the site’s permits and
    licensed practitioners decide.
  </p>
);
