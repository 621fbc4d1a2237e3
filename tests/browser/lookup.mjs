// The look-up field as a hand uses it.

/**
 * The whole text in the field is answered: something is shown, and no part of the index is still on its way. While one is,
 * the answer to the text of a key before stands there. @param {import("playwright-core").Page} page
 */
export const answered = (page) =>
  page.waitForFunction(() => {
    const said = document.getElementById("lookup-status")?.textContent;
    return said && !document.getElementById("lookup-results")?.hidden && !document.querySelector('head > script[src*="search/"]');
  });
