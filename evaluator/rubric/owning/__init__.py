"""What an owner meets, as the trade knows it: habits of playing, repair or replace, terms of renting."""
