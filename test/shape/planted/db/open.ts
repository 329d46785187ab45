export const openDatabase = () => 'a database'
