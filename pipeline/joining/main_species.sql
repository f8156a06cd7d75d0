-- The species that get a result of their own: those the season names, else the ten heaviest.
with

by_weight as (
    select
        species,
        sum(kg) as kg
    from priced_catches
    group by species
),

ranked as (
    select
        species,
        row_number() over (order by kg desc, species) as place
    from by_weight
    where kg > 0
),

season_names as (
    select count(*) > 0 as any_named from named_species
),

final as (
    select ranked.species
    from ranked
    cross join season_names
    left join named_species on ranked.species = named_species.species
    where
        (season_names.any_named and named_species.species is not null)
        or (not season_names.any_named and ranked.place <= 10)
)

select * from final
