-- The species whose sizes are compared: those that the season names, or names edges for; where it
-- names no species, else the ten of which most fish were measured.
with

by_number as (
    select
        species,
        sum(measured) as measured
    from haul_lengths
    group by species
),

ranked as (
    select
        species,
        row_number() over (order by measured desc, species) as place
    from by_number
    where measured > 0
),

season_names as (
    select count(*) > 0 as any_named from named_species
),

final as (
    select ranked.species
    from ranked
    cross join season_names
    left join named_species on ranked.species = named_species.species
    left join species_with_edges on ranked.species = species_with_edges.species
    where
        named_species.species is not null
        or species_with_edges.species is not null
        or (not season_names.any_named and ranked.place <= 10)
)

select * from final
