// Runs before anything is painted: a dark bridge must not see a white page first.
{
  const look = new URLSearchParams(location.search).get('look')
  document.documentElement.dataset.look = look === 'dim' || look === 'night' ? look : 'day'
}
